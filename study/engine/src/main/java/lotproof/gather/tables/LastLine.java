package lotproof.gather.tables;

import java.nio.ByteBuffer;
import java.nio.charset.Charset;
import java.util.Optional;
import java.util.function.IntFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.ReceivedFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * Whether the last line of a text file is whole. A copy that stopped half way ends anywhere, and a
 * number that lost its last digits is still a number. A line end behind the line proves it whole;
 * many programs write none, so that without one the last value is held against its column: what is
 * left of a longer value is shorter than the others, or has fewer decimals.
 *
 * <p>The rules are our own, no source. What they do not prove is asked.
 */
final class LastLine {
  /** A sign, digits with marks among them, decimals, and a unit or nothing. */
  private static final Pattern NUMBER = Pattern.compile("[+-]?([0-9]*)([.,]([0-9]+))?([^0-9]*)");

  private static final int TAIL_BYTES = 8;
  private static final int FEWEST_TO_COMPARE = 3;

  private final String value;
  private final Shape shape;
  private int compared;
  private int equal;
  private int blank;
  private int longest;
  private int shortest = Integer.MAX_VALUE;
  private double largest;
  private boolean sameDecimals = true;
  private boolean sameEnding = true;
  private boolean beginsAnother;

  private LastLine(String value) {
    this.value = value;
    this.shape = Shape.of(value);
  }

  /** The last characters of a file in this code page. */
  static String tail(ReceivedFile file, Charset charset, int skip) {
    ByteBuffer bytes = file.content();
    int from = Math.max(skip, bytes.limit() - TAIL_BYTES);
    // whole characters of two bytes
    from -= (from - skip) % 2;
    return charset.decode(bytes.position(from).slice()).toString();
  }

  /** Whether a text with this end is whole whatever stands in its last line. */
  private static boolean isClosed(String tail) {
    char last = tail.isEmpty() ? '\n' : tail.charAt(tail.length() - 1);
    return last == '\n' || last == '\r' || last == '"';
  }

  /**
   * The question about a last line that may be cut off; nothing when it is proved whole.
   *
   * @param file name of the file
   * @param tail the last characters of its text
   * @param rows its rows that are not blank; gone through twice when there is no line end
   * @param names name of a column counted from 0
   */
  public static Optional<DataIssue> doubt(
      String file, String tail, Grid.Rows rows, IntFunction<String> names) {
    if (isClosed(tail)) {
      return Optional.empty();
    }
    Row[] ends = new Row[2];
    boolean broken =
        rows.forEach(
                row -> {
                  ends[1] = ends[0];
                  ends[0] = row;
                  return true;
                })
            .isPresent();
    Row last = ends[0];
    if (broken || last == null || last.cells().isEmpty()) {
      return Optional.empty();
    }
    int column = last.cells().size() - 1;
    LastLine line = new LastLine(last.cell(column).shown());
    rows.forEach(
        row -> {
          if (row.number() != last.number()) {
            line.compare(row.cell(column).shown());
          }
          return true;
        });
    boolean allFields = ends[1] == null || last.cells().size() >= ends[1].cells().size();
    if (allFields && line.isWhole()) {
      return Optional.empty();
    }
    String what =
        line.value.isEmpty()
            ? "its last line may be cut short"
            : "its last value \"" + line.value + "\" may be cut short";
    return Optional.of(
        DataIssue.error(
            Code.LAST_LINE_UNFINISHED,
            file,
            last.number(),
            names.apply(column),
            "",
            "the file does not end with a line end, so "
                + what
                + "; if nothing is missing, put a line end behind it"));
  }

  /** What of a value a cut would change. */
  private record Shape(boolean number, int length, int decimals, String ending, double size) {
    private static Shape of(String text) {
      Matcher parts = NUMBER.matcher(text);
      boolean parsed = parts.matches();
      String whole = parsed ? parts.group(1) : "";
      return new Shape(
          text.matches("[+-]?[.,]?[0-9].*"),
          text.startsWith("-") || text.startsWith("+") ? text.length() - 1 : text.length(),
          parsed && parts.group(3) != null ? parts.group(3).length() : 0,
          parsed ? parts.group(4) : "",
          whole.isEmpty() ? 0 : Double.parseDouble(whole));
    }
  }

  private void compare(String other) {
    Shape of = Shape.of(other);
    if (other.isEmpty()) {
      blank++;
    } else if (of.number() == shape.number()) {
      compared++;
      equal += other.equals(value) ? 1 : 0;
      longest = Math.max(longest, of.length());
      shortest = Math.min(shortest, of.length());
      largest = Math.max(largest, of.size());
      sameDecimals &= of.decimals() == shape.decimals();
      sameEnding &= of.ending().equals(shape.ending());
      beginsAnother |= other.length() > value.length() && other.startsWith(value);
    }
  }

  private boolean isWhole() {
    if (value.isEmpty()) {
      return blank > 0;
    }
    if (equal >= 2 && !beginsAnother) {
      return true;
    }
    if (compared < FEWEST_TO_COMPARE) {
      return false;
    }
    if (shape.number() && !shape.ending().isEmpty() && sameEnding) {
      return true;
    }
    boolean hasDecimals = shape.decimals() > 0;
    if (shape.number() && sameDecimals && hasDecimals && shape.length() >= shortest) {
      return true;
    }
    // a whole number that lost a digit was ten times as large
    boolean tooLargeOtherwise = !shape.number() || hasDecimals || 10 * shape.size() > 2 * largest;
    return shape.length() >= longest && tooLargeOtherwise;
  }
}
