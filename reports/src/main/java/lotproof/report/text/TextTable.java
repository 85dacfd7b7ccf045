package lotproof.report.text;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.report.model.Cell;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;

/** A table as aligned lines. */
final class TextTable {
  private static final int GAP = 2;
  private static final int LEAST_WORDS = 8;

  /** A longer word, such as a hash, may be cut before the columns are put below each other. */
  private static final int LONGEST_WHOLE = 16;

  private static final int MOST_ROWS = 40;

  private final List<Column> columns;
  private final List<String> headings;
  private final List<List<String>> rows;
  private final int width;
  private final List<String> lines = new ArrayList<>();

  /** Whether no word had to be cut. */
  private boolean whole;

  private TextTable(Table table, int width, boolean all) {
    int[] shown =
        IntStream.range(0, table.columns().size())
            .filter(c -> all || !table.columns().get(c).secondary())
            .toArray();
    this.columns = Arrays.stream(shown).mapToObj(table.columns()::get).toList();
    this.headings = columns.stream().map(c -> SanitizedText.clean(c.heading())).toList();
    this.rows =
        table.rows().stream()
            .limit(all ? Long.MAX_VALUE : MOST_ROWS)
            .map(row -> Arrays.stream(shown).mapToObj(row.cells()::get).toList())
            .map(this::texts)
            .toList();
    this.width = width;
  }

  /**
   * Lines of at most the width: columns of words are narrowed and broken, numbers never; where that
   * is not enough, cells stand below each other.
   *
   * @param all whether to show secondary columns where there is room, and every row of a long table
   */
  static List<String> lines(Table table, int width, boolean all) {
    TextTable text = new TextTable(table, width, all);
    int[] widths = text.widths();
    if (all && !text.whole && text.columns.stream().anyMatch(Column::secondary)) {
      return lines(table, width, false);
    } else if (text.rows.isEmpty()) {
      text.lines.add("nothing to list");
    } else if (text.fits(widths)) {
      text.addBesideEachOther(widths);
    } else {
      text.addStacked();
    }
    int more = table.rows().size() - text.rows.size();
    if (more > 0) {
      text.lines.add("... and " + more + " rows more");
    }
    return text.lines;
  }

  private List<String> texts(List<Cell> row) {
    return IntStream.range(0, row.size()).mapToObj(c -> text(row.get(c), columns.get(c))).toList();
  }

  private static String text(Cell cell, Column column) {
    String text = PlainText.of(cell, column);
    return cell instanceof Cell.Missing && !text.equals("-") ? "(" + text + ")" : text;
  }

  private boolean fits(int[] widths) {
    return Arrays.stream(widths).sum() + GAP * (widths.length - 1) <= width;
  }

  /** A heading is broken before a word of the content is, and cut before that is. */
  private int[] widths() {
    int[] widths = new int[columns.size()];
    int[] content = new int[columns.size()];
    int[] wholeWords = new int[columns.size()];
    int[] least = new int[columns.size()];
    for (int c = 0; c < widths.length; c++) {
      int column = c;
      int longest =
          rows.stream().mapToInt(row -> TextLayout.length(row.get(column))).max().orElse(0);
      int word = rows.stream().mapToInt(row -> longestWord(row.get(column))).max().orElse(0);
      int headingWord = longestWord(headings.get(c));
      widths[c] = Math.max(TextLayout.length(headings.get(c)), longest);
      content[c] = Math.max(headingWord, longest);
      least[c] =
          columns.get(c).kind().numeric()
              ? longest
              : Math.min(longest, Math.max(LEAST_WORDS, Math.min(word, LONGEST_WHOLE)));
      wholeWords[c] = Math.max(least[c], Math.min(headingWord, LONGEST_WHOLE));
    }
    narrow(widths, content);
    narrow(widths, wholeWords);
    whole = fits(widths);
    narrow(widths, least);
    return widths;
  }

  /** Takes from the widest column, as long as there is one above its least width. */
  private void narrow(int[] widths, int[] least) {
    while (!fits(widths)) {
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

  private void addBesideEachOther(int[] widths) {
    addRow(headings, widths);
    int all = Arrays.stream(widths).sum() + GAP * (widths.length - 1);
    lines.add("-".repeat(Math.min(width, all)));
    List<String> before = List.of();
    for (List<String> row : rows) {
      // words that stand above already need no second reading
      boolean same = !before.isEmpty() && before.get(0).equals(row.get(0)) && row.size() > 2;
      List<String> cells = new ArrayList<>(row);
      cells.set(0, same && !columns.get(0).kind().numeric() ? "" : row.get(0));
      addRow(cells, widths);
      before = row;
    }
  }

  /** A line for each cell, rows parted by a line. */
  private void addStacked() {
    int longest = headings.stream().mapToInt(TextLayout::length).max().orElse(0);
    int left = Math.min(longest, width / 2);
    int[] widths = {left, Math.max(1, width - left - GAP)};
    lines.add("-".repeat(width));
    for (List<String> row : rows) {
      for (int c = 0; c < row.size(); c++) {
        addCells(List.of(headings.get(c), row.get(c)), widths, Collections.nCopies(2, false));
      }
      lines.add("-".repeat(width));
    }
  }

  private void addRow(List<String> cells, int[] widths) {
    addCells(cells, widths, columns.stream().map(column -> column.kind().numeric()).toList());
  }

  private void addCells(List<String> cells, int[] widths, List<Boolean> toTheRight) {
    List<List<String>> broken = new ArrayList<>();
    for (int c = 0; c < cells.size(); c++) {
      broken.add(TextLayout.wrapped(cells.get(c), Math.max(1, widths[c])));
    }
    int height = broken.stream().mapToInt(List::size).max().orElse(1);
    for (int part = 0; part < height; part++) {
      StringBuilder line = new StringBuilder();
      for (int c = 0; c < cells.size(); c++) {
        String text = part < broken.get(c).size() ? broken.get(c).get(part) : "";
        line.append(c == 0 ? "" : " ".repeat(GAP));
        line.append(TextLayout.padded(text, widths[c], toTheRight.get(c)));
      }
      lines.add(line.toString().stripTrailing());
    }
  }
}
