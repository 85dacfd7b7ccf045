package lotproof.report.chart;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Chart;
import lotproof.report.model.Report;

/** Every chart as {@code charts/ID.svg} and {@code charts/ID.png}. */
public final class ChartFilesWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    for (Chart chart : report.charts()) {
      String name = "charts/" + chart.caption().id();
      sink.put(name + ".svg", ChartDrawing.svgDocument(chart, ChartSize.WIDE));
      sink.put(name + ".png", ChartDrawing.png(chart, ChartSize.WIDE));
    }
  }
}
