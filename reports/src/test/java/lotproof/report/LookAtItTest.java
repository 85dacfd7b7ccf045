package lotproof.report;

import java.nio.file.Path;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.page.PageWriter;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Leaves the sample report in target/look for a person to look at. */
class LookAtItTest {
  @Test
  @Tag("slow")
  void writeAll() {
    OutputSink sink = OutputSink.folder(Path.of("target", "look"));
    new ChartFilesWriter().write(SampleReport.full(), sink);
    new PageWriter().write(SampleReport.full(), sink);
    new lotproof.report.workbook.WorkbookWriter().write(SampleReport.full(), sink);
    new lotproof.report.text.TextWriter().write(SampleReport.full(), sink);
    new lotproof.report.data.CsvWriter().write(SampleReport.full(), sink);
    for (var chart : SampleReport.full().charts()) {
      sink.put(
          "narrow/" + chart.caption().id() + ".png",
          lotproof.report.chart.ChartDrawing.png(chart, lotproof.report.chart.ChartSize.NARROW));
    }
  }
}
