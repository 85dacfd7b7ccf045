package lotproof.app;

import java.util.ArrayList;
import java.util.List;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;

/** All files of a report. */
final class Evidence {
  static final String RESULT_NAME = "result.json";

  private Evidence() {}

  /** Writes all of them and names them in order. */
  static List<String> write(AnalysedStudy analysed, OutputSink sink) {
    List<String> names = new ArrayList<>();
    OutputSink noting =
        (name, content) -> {
          sink.put(name, content);
          names.add(name);
        };
    List<ReportWriter> writers =
        List.of(
            new TextWriter(),
            new PageWriter(),
            new WorkbookWriter(),
            new ChartFilesWriter(),
            new CsvWriter());
    writers.forEach(writer -> writer.write(analysed.report(), noting));
    noting.put(RESULT_NAME, ResultJson.of(analysed.result()));
    return names;
  }
}
