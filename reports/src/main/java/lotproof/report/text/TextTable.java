package lotproof.report.text;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lotproof.report.model.Cell;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;

/** A table as aligned lines. */
final class TextTable {
  private static final int GAP = 2;
  private static final int LEAST_WORDS = 8;

  /** A longer word, such as a hash, may be cut before the columns are put below each other. */
  private static final int LONGEST_WHOLE = 16;

  /** So few rows are put below each other before a word is cut; more are easier to compare. */
  private static final int MOST_STACKED = 4;

  private static final int MOST_ROWS = 40;

  private TextTable() {}

  /**
   * Lines of at most the width: columns of words are narrowed and broken, numbers never; where that
   * is not enough, cells stand below each other.
   */
  static List<String> lines(Table table, int width) {
    List<List<String>> cells = new ArrayList<>();
    int shown = Math.min(table.rows().size(), MOST_ROWS);
    for (Table.Row row : table.rows().subList(0, shown)) {
      List<String> texts = new ArrayList<>();
      for (int c = 0; c < table.columns().size(); c++) {
        texts.add(cell(row.cells().get(c), table.columns().get(c)));
      }
      cells.add(texts);
    }
    int[] widths = widths(table, cells, width);
    List<String> lines = new ArrayList<>();
    if (Arrays.stream(widths).sum() + GAP * (widths.length - 1) > width && !cells.isEmpty()) {
      addStacked(lines, table, cells, width);
      if (shown < table.rows().size()) {
        lines.add("... and " + (table.rows().size() - shown) + " rows more");
      }
      return lines;
    }
    addRow(lines, table, table.columns().stream().map(TextTable::heading).toList(), widths);
    lines.add("-".repeat(Math.min(width, Arrays.stream(widths).sum() + GAP * (widths.length - 1))));
    cells.forEach(row -> addRow(lines, table, row, widths));
    if (cells.isEmpty()) {
      lines.add("nothing to list");
    }
    if (shown < table.rows().size()) {
      lines.add("... and " + (table.rows().size() - shown) + " rows more");
    }
    return lines;
  }

  /**
   * Where the columns do not fit beside each other: a line for each cell, rows parted by a line.
   */
  private static void addStacked(
      List<String> lines, Table table, List<List<String>> cells, int width) {
    List<String> headings = table.columns().stream().map(TextTable::heading).toList();
    int longest = headings.stream().mapToInt(TextLayout::length).max().orElse(0);
    int left = Math.min(longest, width / 2);
    int right = Math.max(1, width - left - GAP);
    lines.add("-".repeat(width));
    for (List<String> row : cells) {
      for (int c = 0; c < row.size(); c++) {
        List<String> names = TextLayout.wrapped(headings.get(c), left);
        List<String> values = TextLayout.wrapped(row.get(c), right);
        for (int part = 0; part < Math.max(names.size(), values.size()); part++) {
          String name = part < names.size() ? names.get(part) : "";
          String value = part < values.size() ? values.get(part) : "";
          lines.add(
              (TextLayout.padded(name, left, false) + " ".repeat(GAP) + value).stripTrailing());
        }
      }
      lines.add("-".repeat(width));
    }
  }

  private static int[] widths(Table table, List<List<String>> cells, int width) {
    int columns = table.columns().size();
    int[] widths = new int[columns];
    int[] content = new int[columns];
    int[] least = new int[columns];
    int[] wholeContent = new int[columns];
    int[] whole = new int[columns];
    for (int c = 0; c < columns; c++) {
      String heading = heading(table.columns().get(c));
      int column = c;
      content[c] =
          Math.max(
              longestWord(heading),
              cells.stream().mapToInt(row -> TextLayout.length(row.get(column))).max().orElse(0));
      widths[c] = Math.max(TextLayout.length(heading), content[c]);
      int contentWord =
          cells.stream().mapToInt(row -> longestWord(row.get(column))).max().orElse(0);
      least[c] = Math.min(content[c], leastWidth(table, column));
      wholeContent[c] = whole(least[c], content[c], contentWord);
      whole[c] = whole(wholeContent[c], content[c], longestWord(heading));
    }
    int room = width - GAP * (columns - 1);
    // a heading is broken before a word of the content is, and cut before that is cut
    narrow(widths, content, room);
    narrow(widths, whole, room);
    if (cells.size() > MOST_STACKED) {
      narrow(widths, wholeContent, room);
    }
    return widths;
  }

  /** At least so wide that a word is not cut, unless it is very long. */
  private static int whole(int least, int content, int word) {
    return Math.min(content, Math.max(least, Math.min(word, LONGEST_WHOLE)));
  }

  /** Takes from the widest column, as long as there is one above its least width. */
  private static void narrow(int[] widths, int[] least, int room) {
    while (Arrays.stream(widths).sum() > room) {
      int widest = -1;
      for (int c = 0; c < widths.length; c++) {
        if (widths[c] > least[c] && (widest < 0 || widths[c] > widths[widest])) {
          widest = c;
        }
      }
      if (widest < 0) {
        return;
      }
      widths[widest]--;
    }
  }

  private static int longestWord(String text) {
    return Arrays.stream(text.split(" ", -1)).mapToInt(TextLayout::length).max().orElse(0);
  }

  private static int leastWidth(Table table, int c) {
    Column column = table.columns().get(c);
    if (!column.kind().numeric()) {
      return LEAST_WORDS;
    }
    return table.rows().stream()
        .limit(MOST_ROWS)
        .map(row -> row.cells().get(c))
        .filter(cell -> cell.number().isPresent())
        .mapToInt(cell -> TextLayout.length(cell(cell, column)))
        .max()
        .orElse(LEAST_WORDS);
  }

  private static void addRow(List<String> lines, Table table, List<String> cells, int[] widths) {
    List<List<String>> broken = new ArrayList<>();
    int height = 1;
    for (int c = 0; c < cells.size(); c++) {
      List<String> parts = TextLayout.wrapped(cells.get(c), Math.max(1, widths[c]));
      broken.add(parts);
      height = Math.max(height, parts.size());
    }
    for (int part = 0; part < height; part++) {
      StringBuilder line = new StringBuilder();
      for (int c = 0; c < cells.size(); c++) {
        String text = part < broken.get(c).size() ? broken.get(c).get(part) : "";
        boolean number = table.columns().get(c).kind().numeric();
        line.append(c == 0 ? "" : " ".repeat(GAP));
        line.append(TextLayout.padded(text, widths[c], number));
      }
      lines.add(line.toString().stripTrailing());
    }
  }

  private static String heading(Column column) {
    String title = OutsideText.clean(column.title());
    return column.unit().isEmpty() ? title : title + " [" + OutsideText.clean(column.unit()) + "]";
  }

  private static String cell(Cell cell, Column column) {
    if (cell instanceof Cell.Text text) {
      return OutsideText.clean(text.text());
    }
    if (cell instanceof Cell.Missing missing) {
      String reason = OutsideText.clean(missing.reason());
      return reason.equals("-") ? reason : "(" + reason + ")";
    }
    return NumberText.of(cell.number().orElseThrow(), column.style().orElseThrow());
  }
}
