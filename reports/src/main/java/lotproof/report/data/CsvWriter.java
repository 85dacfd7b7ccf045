package lotproof.report.data;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.FormulaValue;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;

/**
 * Every table, and the numbers behind every chart, as {@code tables/ID.csv}: comma, UTF-8, a
 * heading of column keys with their units, numbers at full precision with a decimal point,
 * fractions as fractions. A missing number is an empty field. Words that a spreadsheet would take
 * for a formula get an apostrophe in front.
 */
public final class CsvWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    List<Table> tables = new ArrayList<>(report.tables());
    for (Chart chart : report.charts()) {
      tables.add(ChartTable.of(chart));
    }
    tables.forEach(table -> sink.put("tables/" + table.tableId() + ".csv", csv(table)));
  }

  /** A table as CSV. */
  public static String csv(Table table) {
    StringBuilder csv = new StringBuilder();
    csv.append(
        table.columns().stream()
            .map(CsvWriter::heading)
            .map(CsvWriter::quoted)
            .collect(Collectors.joining(",")));
    csv.append('\n');
    for (Table.Row row : table.rows()) {
      csv.append(row.cells().stream().map(CsvWriter::field).collect(Collectors.joining(",")));
      csv.append('\n');
    }
    return csv.toString();
  }

  private static String heading(Table.Column column) {
    return column.unit().isEmpty()
        ? column.key()
        : column.key() + " [" + OutsideText.clean(column.unit()) + "]";
  }

  private static String field(Cell cell) {
    if (cell instanceof Cell.Text text) {
      String clean = OutsideText.clean(text.text());
      return quoted(OutsideText.looksLikeFormula(clean) ? "'" + clean : clean);
    }
    var number = FormulaValue.numberIn(cell);
    return number.isPresent() ? NumberText.exact(number.getAsDouble()) : "";
  }

  private static String quoted(String field) {
    boolean plain = field.chars().noneMatch(c -> c == ',' || c == '"' || c == ';' || c == '\'');
    return plain && field.equals(field.strip()) ? field : '"' + field.replace("\"", "\"\"") + '"';
  }
}
