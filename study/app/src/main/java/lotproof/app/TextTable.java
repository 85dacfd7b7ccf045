package lotproof.app;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;

/** A table in columns of equal width for a terminal. */
final class TextTable {
  private static final String GAP = "  ";

  private final List<String> header;
  private final List<Boolean> toTheRight;
  private final List<List<String>> rows = new ArrayList<>();

  /**
   * @param header column titles; one that begins with {@code >} stands to the right, as its numbers
   *     do
   */
  TextTable(String... header) {
    this.toTheRight = List.of(header).stream().map(title -> title.startsWith(">")).toList();
    this.header =
        List.of(header).stream().map(title -> title.startsWith(">") ? title.substring(1) : title).toList();
  }

  void row(String... cells) {
    if (cells.length != header.size()) {
      throw new IllegalArgumentException(
          "a row needs " + header.size() + " cells, was given " + cells.length);
    }
    rows.add(List.of(cells));
  }

  boolean isEmpty() {
    return rows.isEmpty();
  }

  void print(PrintWriter to, Palette palette) {
    int[] widths = new int[header.size()];
    widen(widths, header);
    rows.forEach(row -> widen(widths, row));
    to.println(palette.strong(line(header, widths)));
    rows.forEach(row -> to.println(line(row, widths)));
  }

  private static void widen(int[] widths, List<String> cells) {
    for (int i = 0; i < widths.length; i++) {
      widths[i] = Math.max(widths[i], length(cells.get(i)));
    }
  }

  private String line(List<String> cells, int[] widths) {
    StringBuilder line = new StringBuilder();
    for (int i = 0; i < widths.length; i++) {
      String blanks = " ".repeat(widths[i] - length(cells.get(i)));
      line.append(i == 0 ? "" : GAP);
      line.append(toTheRight.get(i) ? blanks + cells.get(i) : cells.get(i) + blanks);
    }
    return line.toString().stripTrailing();
  }

  private static int length(String text) {
    return text.codePointCount(0, text.length());
  }
}
