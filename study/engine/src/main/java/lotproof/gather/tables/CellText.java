package lotproof.gather.tables;

import java.util.regex.Pattern;

/** White space around what a cell holds, which carries no meaning and is left out. */
public final class CellText {
  /** White space of all scripts, the no-break spaces included. */
  private static final Pattern AROUND =
      Pattern.compile("^[\\s\\p{Z}]+|[\\s\\p{Z}]+$", Pattern.UNICODE_CHARACTER_CLASS);

  private static final Cell BLANK = new Cell.Blank();

  private CellText() {}

  /** Text as a cell: blank when only white space is left. */
  public static Cell of(String raw) {
    if (raw.isEmpty()) {
      return BLANK;
    }
    boolean bare = isPlain(raw.charAt(0)) && isPlain(raw.charAt(raw.length() - 1));
    String text = bare ? raw : AROUND.matcher(raw).replaceAll("");
    return text.isEmpty() ? BLANK : new Cell.Text(text);
  }

  private static boolean isPlain(char c) {
    return c > ' ' && c < 0x7F;
  }
}
