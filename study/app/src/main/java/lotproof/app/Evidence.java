package lotproof.app;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartDrawings;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Report;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.work.SideBySide;

/** All files of a report. */
final class Evidence {
  static final String RESULT_NAME = "result.json";
  static final String ORIGIN_NAME = "origin.json";

  private Evidence() {}

  /** Writes all of them and names them in order. The writers work side by side. */
  static List<String> write(AnalysedStudy analysed, OutputSink sink) {
    ChartDrawings drawings = new ChartDrawings();
    // in the order in which they are named; the two that take longest stand where work begins
    List<ReportWriter> writers =
        List.of(
            new WorkbookWriter(),
            new PageWriter(drawings),
            new TextWriter(),
            new CsvWriter(),
            (report, files) -> files.put(RESULT_NAME, ResultJson.of(analysed.result())),
            new ChartFilesWriter(drawings));
    List<OutputSink.Memory> written =
        SideBySide.map(writers, writer -> written(writer, analysed.report()));
    SortedMap<String, byte[]> all = new TreeMap<>();
    List<String> names = new ArrayList<>();
    for (OutputSink.Memory files : written) {
      all.putAll(files.files());
      names.addAll(files.files().keySet());
    }
    all.put(ORIGIN_NAME, bytes(ReportOrigin.of(analysed, all)));
    names.add(ORIGIN_NAME);
    all.forEach(sink::put);
    return names;
  }

  private static OutputSink.Memory written(ReportWriter writer, Report report) {
    OutputSink.Memory files = new OutputSink.Memory();
    writer.write(report, files);
    return files;
  }

  private static byte[] bytes(ReportOrigin origin) {
    return ResultJson.of(origin).getBytes(StandardCharsets.UTF_8);
  }
}
