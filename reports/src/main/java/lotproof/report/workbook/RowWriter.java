package lotproof.report.workbook;

import java.io.IOException;
import org.apache.poi.xssf.streaming.SheetDataWriter;

/**
 * Writes rows as the library does, text that needs no escape in one piece instead of character by
 * character: nearly all of it, formulas above all.
 */
class RowWriter extends SheetDataWriter {
  RowWriter() throws IOException {}

  @Override
  protected void outputEscapedString(String text) throws IOException {
    if (isPlain(text)) {
      _out.write(text);
    } else {
      super.outputEscapedString(text);
    }
  }

  private static boolean isPlain(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c < ' ' || c > '~' || c == '<' || c == '>' || c == '&' || c == '"') {
        return false;
      }
    }
    return true;
  }
}
