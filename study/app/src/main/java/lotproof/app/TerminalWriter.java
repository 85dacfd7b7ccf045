package lotproof.app;

import java.io.PrintWriter;
import java.io.Writer;
import java.util.function.IntSupplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.apache.commons.text.WordUtils;

/**
 * Breaks lines of words between words at the width of a terminal, what follows set in under them. A
 * path that is longer than a line stays whole, so that it can be copied. Tables and reports, which
 * know the width themselves, are printed in one piece and stay as they are.
 */
final class TerminalWriter extends PrintWriter {
  private static final Pattern INDENT = Pattern.compile("^ *");
  private static final Pattern COLOR = Pattern.compile("\u001b\\[[0-9;]*m");
  private static final String SET_IN = "  ";

  private final IntSupplier columns;

  /** 0 until a line is long enough for the width to matter. */
  private int width;

  TerminalWriter(Writer terminal, IntSupplier columns) {
    super(terminal);
    this.columns = columns;
  }

  @Override
  public void println(String line) {
    super.println(line.length() <= ScreenWidth.LEAST ? line : broken(line));
  }

  private String broken(String line) {
    if (width == 0) {
      width = columns.getAsInt();
    }
    if (COLOR.matcher(line).replaceAll("").length() <= width) {
      return line;
    }
    Matcher indent = INDENT.matcher(line);
    String before = indent.find() ? indent.group() : "";
    String next = System.lineSeparator() + before + SET_IN;
    int room = width - before.length() - SET_IN.length();
    return before + WordUtils.wrap(line.substring(before.length()), room, next, false);
  }
}
