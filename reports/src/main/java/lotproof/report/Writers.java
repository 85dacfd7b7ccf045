package lotproof.report;

import java.util.List;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;

/** The writers that make a whole report folder. */
public final class Writers {
  private Writers() {}

  /** All of them, in the order they write. */
  public static List<ReportWriter> all() {
    return List.of(
        new PageWriter(),
        new WorkbookWriter(),
        new TextWriter(),
        new ChartFilesWriter(),
        new CsvWriter());
  }
}
