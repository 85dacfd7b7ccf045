package lotproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Report;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.Table;
import lotproof.report.model.Workbook;
import lotproof.report.model.Workbook.Entry;
import lotproof.report.model.Workbook.Summary;

/** Workbooks with the tables of test reports, each on a sheet of its own. */
public final class TestWorkbooks {
  private TestWorkbooks() {}

  /** All tables of a report. */
  public static Workbook of(Report report) {
    List<Sheet> sheets = new ArrayList<>();
    for (Table table : report.tables()) {
      String name = "T" + (sheets.size() + 1);
      sheets.add(new Sheet(name, List.of(table), charts(table)));
    }
    String title = report.identity().title();
    Cell words = Cell.text(title).from(Formula.words(title.replaceAll("\\p{Cntrl}", "")));
    return new Workbook(
        report.identity(),
        new Summary(Cell.text(title), words, List.of(new Entry("Title", Cell.text(title)))),
        sheets);
  }

  /** A chart of the first two columns, where they are words and numbers. */
  private static List<SheetChart> charts(Table table) {
    if (table.rows().isEmpty()
        || table.columns().size() < 2
        || table.columns().get(0).kind().numeric()
        || !table.columns().get(table.columns().size() - 1).kind().numeric()) {
      return List.of();
    }
    List<Rows> rows = List.of(new Rows(0, table.rows().size() - 1));
    String last = table.columns().get(table.columns().size() - 1).key();
    Range values = new Range(table.id(), last, rows);
    List<SheetChart> charts = new ArrayList<>();
    for (Look look : List.of(Look.DOTS, Look.BARS)) {
      charts.add(
          new SheetChart(
              table.title(),
              "As the table has it.",
              Optional.of(new Range(table.id(), table.columns().get(0).key(), rows)),
              new Axis("Across", "g"),
              new Axis("Up", "g"),
              List.of(Series.of(table.title(), look, values).within(values, values))));
    }
    return charts;
  }
}
