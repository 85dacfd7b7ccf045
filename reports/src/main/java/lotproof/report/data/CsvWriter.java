package lotproof.report.data;

import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.text.PlainText;
import lotproof.report.text.SanitizedText;

/**
 * Every table, and the numbers behind every chart, as {@code tables/ID.csv}: comma, UTF-8, a
 * heading of column keys with their units, numbers to twelve significant digits with a decimal
 * point, fractions as fractions. A missing number is an empty field. Words that a spreadsheet would
 * take for a formula get an apostrophe in front.
 */
public final class CsvWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    report.blocks().forEach(block -> write(block, sink));
  }

  /** Writes the tables of a section, and the numbers behind its charts. */
  public static void write(Section section, OutputSink sink) {
    section.blocks().forEach(block -> write(block, sink));
  }

  private static void write(Block block, OutputSink sink) {
    if (block instanceof Table || block instanceof Chart) {
      Table table = block instanceof Chart chart ? ChartTable.of(chart) : (Table) block;
      sink.put(
          "tables/" + table.id() + ".csv",
          out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            write(table, text);
            text.flush();
          });
    }
  }

  /** Writes a table as CSV; the stream stays open. */
  static void write(Table table, Writer text) throws IOException {
    var csv =
        de.siegmar.fastcsv.writer.CsvWriter.builder().lineDelimiter(LineDelimiter.LF).build(text);
    csv.writeRecord(table.columns().stream().map(CsvWriter::heading).toList());
    for (Table.Row row : table.rows()) {
      csv.writeRecord(row.cells().stream().map(CsvWriter::field).toList());
    }
    csv.flush();
  }

  private static String heading(Table.Column column) {
    return column.unit().isEmpty()
        ? column.key()
        : column.key() + " [" + SanitizedText.clean(column.unit()) + "]";
  }

  private static String field(Cell cell) {
    if (cell instanceof Cell.Text text) {
      String clean = SanitizedText.clean(text.text());
      return SanitizedText.looksLikeFormula(clean) ? "'" + clean : clean;
    }
    var number = cell.number();
    return number.isPresent() ? PlainText.exact(Significant.of(number.getAsDouble())) : "";
  }
}
