package lotproof.report.data;

import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
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
    for (Table table : tables) {
      sink.put(
          "tables/" + table.tableId() + ".csv",
          out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            write(table, text);
            text.flush();
          });
    }
  }

  /** A table as CSV. */
  public static String csv(Table table) {
    StringBuilder csv = new StringBuilder();
    try {
      write(table, csv);
    } catch (IOException e) {
      throw new UncheckedIOException("no text in memory", e);
    }
    return csv.toString();
  }

  private static void write(Table table, Appendable csv) throws IOException {
    List<Table.Column> columns = table.columns();
    for (int c = 0; c < columns.size(); c++) {
      csv.append(c == 0 ? "" : ",").append(quoted(heading(columns.get(c))));
    }
    csv.append('\n');
    for (Table.Row row : table.rows()) {
      for (int c = 0; c < columns.size(); c++) {
        csv.append(c == 0 ? "" : ",").append(field(row.cells().get(c)));
      }
      csv.append('\n');
    }
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
    var number = cell.number();
    return number.isPresent() ? NumberText.exact(number.getAsDouble()) : "";
  }

  private static String quoted(String field) {
    boolean plain = field.equals(field.strip());
    for (int i = 0; i < field.length() && plain; i++) {
      char c = field.charAt(i);
      plain = c != ',' && c != '"' && c != ';' && c != '\'';
    }
    return plain ? field : '"' + field.replace("\"", "\"\"") + '"';
  }
}
