package lotproof.report.text;

import java.util.ArrayList;
import java.util.List;

/** Lines of text of limited width. Widths count characters, so that columns stay aligned. */
public final class TextLayout {
  private TextLayout() {}

  /** Words broken over lines; a word that is longer than a line is cut. */
  public static List<String> wrapped(String text, int width) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : text.strip().split(" +", -1)) {
      String rest = word;
      if (line.length() > 0 && length(line) + 1 + length(rest) > width) {
        lines.add(line.toString());
        line.setLength(0);
      }
      while (length(rest) > width) {
        int end = rest.offsetByCodePoints(0, width);
        lines.add(rest.substring(0, end));
        rest = rest.substring(end);
      }
      if (line.length() > 0) {
        line.append(' ');
      }
      line.append(rest);
    }
    if (line.length() > 0 || lines.isEmpty()) {
      lines.add(line.toString());
    }
    return lines;
  }

  static int length(CharSequence text) {
    return Character.codePointCount(text, 0, text.length());
  }

  /** Filled up with blanks, on the left or on the right. */
  static String padded(String text, int width, boolean toTheRight) {
    String blanks = " ".repeat(Math.max(0, width - length(text)));
    return toTheRight ? blanks + text : text + blanks;
  }
}
