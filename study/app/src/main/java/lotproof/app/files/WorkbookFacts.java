package lotproof.app.files;

import org.xml.sax.Attributes;
import org.xml.sax.helpers.DefaultHandler;

/** What the workbook says about all of its sheets. */
final class WorkbookFacts extends DefaultHandler {
  private boolean countsFrom1904;

  @Override
  public void startElement(String uri, String localName, String name, Attributes attributes) {
    if (localName.equals("workbookPr")) {
      String value = attributes.getValue("date1904");
      countsFrom1904 = "1".equals(value) || "true".equals(value);
    }
  }

  /** Whether day numbers count from 1904 and not from 1900. */
  boolean countsFrom1904() {
    return countsFrom1904;
  }
}
