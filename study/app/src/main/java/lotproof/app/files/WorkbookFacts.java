package lotproof.app.files;

import java.util.HashSet;
import java.util.Set;
import org.xml.sax.Attributes;
import org.xml.sax.helpers.DefaultHandler;

/** What the workbook says about all of its sheets. */
final class WorkbookFacts extends DefaultHandler {
  private final Set<String> hidden = new HashSet<>();
  private boolean countsFrom1904;

  @Override
  public void startElement(String uri, String localName, String name, Attributes attributes) {
    if (localName.equals("workbookPr")) {
      String value = attributes.getValue("date1904");
      countsFrom1904 = "1".equals(value) || "true".equals(value);
    } else if (localName.equals("sheet")) {
      String state = attributes.getValue("state");
      if ("hidden".equals(state) || "veryHidden".equals(state)) {
        hidden.add(String.valueOf(attributes.getValue("name")));
      }
    }
  }

  /** Whether the sheet of this name is hidden. */
  boolean isHidden(String sheet) {
    return hidden.contains(sheet);
  }

  /** Whether day numbers count from 1904 and not from 1900. */
  boolean countsFrom1904() {
    return countsFrom1904;
  }
}
