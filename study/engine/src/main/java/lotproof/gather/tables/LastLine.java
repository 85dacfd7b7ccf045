package lotproof.gather.tables;

import java.nio.ByteBuffer;
import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
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

  private LastLine() {}

  /** Whether a text is whole whatever stands in its last line. */
  private static boolean isClosed(ReceivedFile file, Charset charset, int skip) {
    ByteBuffer bytes = file.content();
    int from = Math.max(skip, bytes.limit() - TAIL_BYTES);
    // whole characters of two bytes
    from -= (from - skip) % 2;
    String tail = charset.decode(bytes.position(from).slice()).toString();
    return tail.isEmpty() || "\n\r\"".indexOf(tail.charAt(tail.length() - 1)) >= 0;
  }

  /**
   * The question about a last line that may be cut off; nothing when it is proved whole.
   *
   * @param skip bytes before its text
   * @param rows its rows that are not blank; gone through twice when there is no line end
   * @param names name of a column counted from 0
   */
  static Optional<DataIssue> doubt(
      ReceivedFile file, Charset charset, int skip, Grid.Rows rows, IntFunction<String> names) {
    if (isClosed(file, charset, skip)) {
      return Optional.empty();
    }
    Row[] ends = new Row[2];
    Optional<DataIssue> broken =
        rows.forEach(
            row -> {
              ends[1] = ends[0];
              ends[0] = row;
              return true;
            });
    Row last = ends[0];
    if (broken.isPresent() || last == null || last.cells().isEmpty()) {
      return Optional.empty();
    }
    int column = last.cells().size() - 1;
    String value = last.cell(column).shown();
    List<String> others = new ArrayList<>();
    Optional<Row> unused =
        rows.first(
            row -> {
              if (row.number() != last.number()) {
                others.add(row.cell(column).shown());
              }
              return false;
            });
    boolean allFields = ends[1] == null || last.cells().size() >= ends[1].cells().size();
    if (allFields && isWhole(value, others)) {
      return Optional.empty();
    }
    String what = value.isEmpty() ? "its last line" : "its last value \"" + value + "\"";
    return Optional.of(
        DataIssue.error(
            Code.LAST_LINE_UNFINISHED,
            file.name(),
            last.number(),
            names.apply(column),
            "",
            "the file does not end with a line end, so %s may be cut short; if nothing is missing,"
                    .formatted(what)
                + " put a line end behind it"));
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

  /** Whether the others of its column prove that a value is whole. */
  private static boolean isWhole(String value, List<String> column) {
    if (value.isEmpty()) {
      return column.contains("");
    }
    Shape shape = Shape.of(value);
    List<String> texts =
        column.stream()
            .filter(text -> !text.isEmpty() && Shape.of(text).number() == shape.number())
            .toList();
    boolean beginsAnother =
        texts.stream().anyMatch(t -> t.length() > value.length() && t.startsWith(value));
    if (!beginsAnother && Collections.frequency(texts, value) >= 2) {
      return true;
    }
    if (texts.size() < FEWEST_TO_COMPARE) {
      return false;
    }
    List<Shape> others = texts.stream().map(Shape::of).toList();
    boolean hasDecimals = shape.decimals() > 0;
    if (shape.number()
        && !shape.ending().isEmpty()
        && others.stream().allMatch(o -> o.ending().equals(shape.ending()))) {
      return true;
    }
    if (shape.number()
        && hasDecimals
        && others.stream().allMatch(o -> o.decimals() == shape.decimals())
        && others.stream().anyMatch(o -> shape.length() >= o.length())) {
      return true;
    }
    double largest = others.stream().mapToDouble(Shape::size).max().orElse(0);
    // a whole number that lost a digit was ten times as large
    boolean tooLargeOtherwise = !shape.number() || hasDecimals || 10 * shape.size() > 2 * largest;
    return tooLargeOtherwise && others.stream().allMatch(o -> shape.length() >= o.length());
  }
}
