package lotproof.gather;

import java.util.regex.Pattern;

/** White space around what a cell holds, which carries no meaning and is left out. */
public final class CellText {
  /** White space of all scripts, the no-break spaces included. */
  private static final Pattern AROUND =
      Pattern.compile("^[\\s\\p{Z}]+|[\\s\\p{Z}]+$", Pattern.UNICODE_CHARACTER_CLASS);

  private CellText() {}

  /** Text as a cell: blank when only white space is left. */
  public static Cell of(String raw) {
    String text = AROUND.matcher(raw).replaceAll("");
    return text.isEmpty() ? new Cell.Blank() : new Cell.Text(text);
  }
}
