package lotproof.report.chart;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Chart;
import lotproof.report.model.Report;
import lotproof.work.Parallel;

/** Every chart as {@code charts/ID.svg} and {@code charts/ID.png}. */
public final class ChartFilesWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    Parallel.map(
        report.charts(),
        chart -> {
          write(chart, "charts/", sink);
          return chart;
        });
  }

  /** One chart as {@code ID.svg} and {@code ID.png} below a folder. */
  public static void write(Chart chart, String folder, OutputSink sink) {
    String name = folder + chart.caption().id();
    sink.put(name + ".svg", ChartDrawing.svgDocument(chart));
    sink.put(name + ".png", ChartDrawing.png(chart));
  }
}
