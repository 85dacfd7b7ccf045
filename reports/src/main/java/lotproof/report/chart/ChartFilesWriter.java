package lotproof.report.chart;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Report;
import lotproof.work.Parallel;

/** Every chart as {@code charts/ID.svg} and {@code charts/ID.png}. */
public final class ChartFilesWriter implements ReportWriter {
  private final ChartDrawings drawings;

  /** A writer that draws for itself. */
  public ChartFilesWriter() {
    this(new ChartDrawings());
  }

  /** A writer that shares drawings with another writer of the same report. */
  public ChartFilesWriter(ChartDrawings drawings) {
    this.drawings = drawings;
  }

  /** Each chart goes out as it is drawn, so that the pictures of one wait for no other. */
  @Override
  public void write(Report report, OutputSink sink) {
    Parallel.map(
        report.charts(),
        chart -> {
          ChartDrawing drawing = drawings.of(chart, ChartSize.WIDE);
          String name = "charts/" + chart.caption().id();
          sink.put(name + ".svg", drawing.svgDocument());
          sink.put(name + ".png", drawing.png());
          return name;
        });
  }
}
