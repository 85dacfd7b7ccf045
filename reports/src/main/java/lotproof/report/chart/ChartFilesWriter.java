package lotproof.report.chart;

import java.nio.charset.StandardCharsets;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Chart;
import lotproof.report.model.Report;

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
    report.charts().parallelStream()
        .map(this::files)
        .toList()
        .forEach(
            files -> {
              sink.put(files.name() + ".svg", files.svg());
              sink.put(files.name() + ".png", files.png());
            });
  }

  private record Files(String name, byte[] svg, byte[] png) {}

  private Files files(Chart chart) {
    ChartDrawing drawing = drawings.of(chart, ChartSize.WIDE);
    return new Files(
        "charts/" + chart.caption().id(),
        drawing.svgDocument().getBytes(StandardCharsets.UTF_8),
        drawing.png());
  }
}
