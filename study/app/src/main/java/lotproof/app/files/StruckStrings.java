package lotproof.app.files;

import java.util.BitSet;
import org.xml.sax.Attributes;
import org.xml.sax.helpers.DefaultHandler;

/** Which of the texts that cells share are struck through, in whole or in part. */
final class StruckStrings extends DefaultHandler {
  private final BitSet struck = new BitSet();
  private int text = -1;

  @Override
  public void startElement(String uri, String localName, String name, Attributes attributes) {
    if (localName.equals("si")) {
      text++;
    } else if (text >= 0 && isStrike(localName, attributes)) {
      struck.set(text);
    }
  }

  /** Whether an element says that text is struck through. */
  static boolean isStrike(String element, Attributes attributes) {
    String value = attributes.getValue("val");
    boolean off = "0".equals(value) || "false".equals(value);
    return element.equals("strike") && !off;
  }

  boolean has(int index) {
    return index >= 0 && struck.get(index);
  }
}
