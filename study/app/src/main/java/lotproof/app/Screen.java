package lotproof.app;

import java.io.PrintWriter;
import java.util.List;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Headline;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.text.TextReport;

/** What a person reads in a terminal. */
final class Screen {
  private final PrintWriter out;
  private final TextReport text;

  Screen(PrintWriter out, Palette palette) {
    this.out = out;
    this.text = new TextReport(palette.columns(), palette.isOn());
  }

  void show(Report report) {
    out.print(text.of(report));
    out.flush();
  }

  /** The sections alone, for a command that is about them and not about the figure. */
  void showSections(Report report) {
    out.print(text.sectionsOf(report));
    out.flush();
  }

  void showBlocks(List<Block> blocks) {
    out.print(text.of(blocks));
    out.flush();
  }

  void show(Headline headline) {
    out.println();
    out.print(text.of(headline));
    out.flush();
  }

  void show(Table table) {
    out.print(text.of(table));
    out.flush();
  }

  /** Shows a table unless it has no row. */
  void showIfAny(Table table) {
    if (!table.rows().isEmpty()) {
      out.println();
      show(table);
    }
  }

  /** A plain table for a command's own messages. */
  static Table table(String id, String title, List<Column> columns, List<Row> rows) {
    return new Table(id, title, Table.Role.READ, columns, rows, Prose.none());
  }

  static Row row(Object... cells) {
    return new Row(
        java.util.Arrays.stream(cells)
            .map(
                cell ->
                    cell instanceof Integer number
                        ? Cell.number(number)
                        : Cell.text(String.valueOf(cell)))
            .toList());
  }
}
