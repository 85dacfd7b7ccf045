package lotproof.report.text;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Level;
import lotproof.report.model.Report;

/**
 * The report as {@code report.txt}, and the claim with nothing else as {@code claim.txt}: what may
 * be quoted, or why nothing may.
 */
public final class TextWriter implements ReportWriter {
  private static final int WIDTH = 80;

  @Override
  public void write(Report report, OutputSink sink) {
    sink.put("report.txt", new TextReport(WIDTH, false, false).of(report));
    String claim =
        report.levels().stream()
            .filter(Level::leading)
            .findFirst()
            .map(Level::sentence)
            .orElse("No claim can be made.");
    sink.put("claim.txt", SanitizedText.clean(claim) + "\n");
  }
}
