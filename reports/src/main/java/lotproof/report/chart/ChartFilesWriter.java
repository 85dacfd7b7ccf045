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

  /** What a chart is written as. */
  @SuppressWarnings("ArrayRecordComponent") // passed on at once, never compared
  private record Files(String name, String svg, byte[] png) {}

  @Override
  public void write(Report report, OutputSink sink) {
    for (Files files : SideBySide.map(report.charts(), this::files)) {
      sink.put(files.name() + ".svg", files.svg());
      sink.put(files.name() + ".png", files.png());
    }
  }

  private Files files(Chart chart) {
    ChartDrawing drawing = drawings.of(chart, ChartSize.WIDE);
    return new Files("charts/" + chart.caption().id(), drawing.svgDocument(), drawing.png());
  }
}
