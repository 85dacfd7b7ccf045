package lotproof.report.chart;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Chart;
import lotproof.report.model.Report;
import lotproof.work.SideBySide;

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

  @Override
  public void write(Report report, OutputSink sink) {
    SideBySide.map(report.charts(), this::files).forEach(files -> files.files().forEach(sink::put));
  }

  private OutputSink.Memory files(Chart chart) {
    ChartDrawing drawing = drawings.of(chart, ChartSize.WIDE);
    String name = "charts/" + chart.caption().id();
    OutputSink.Memory files = new OutputSink.Memory();
    files.put(name + ".svg", drawing.svgDocument());
    files.put(name + ".png", drawing.png());
    return files;
  }
}
