package lotproof.app;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;

/** A table in columns of equal width for a terminal. */
final class TextTable {
  private static final String GAP = "  ";
  private static final int NARROWEST_TITLE = 12;

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
    rows.forEach(row -> widen(widths, row));
    List<List<String>> titles = new ArrayList<>();
    for (int i = 0; i < widths.length; i++) {
      List<String> lines = wrapped(header.get(i), Math.max(widths[i], NARROWEST_TITLE));
      titles.add(lines);
      for (String line : lines) {
        widths[i] = Math.max(widths[i], length(line));
      }
    }
    int height = titles.stream().mapToInt(List::size).max().orElse(0);
    for (int level = 0; level < height; level++) {
      List<String> line = new ArrayList<>();
      for (List<String> title : titles) {
        int skipped = height - title.size();
        line.add(level < skipped ? "" : title.get(level - skipped));
      }
      to.println(palette.strong(line(line, widths)));
    }
    rows.forEach(row -> to.println(line(row, widths)));
  }

  /** A title in lines of at most this width, unless a word is longer. */
  private static List<String> wrapped(String title, int width) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : List.of(title.split(" ", -1))) {
      if (line.length() > 0 && length(line.toString()) + 1 + length(word) > width) {
        lines.add(line.toString());
        line.setLength(0);
      }
      line.append(line.length() > 0 ? " " : "").append(word);
    }
    lines.add(line.toString());
    return lines;
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
