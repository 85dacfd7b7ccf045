package lotproof.report.text;

import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Headline;
import lotproof.report.model.Report;

/**
 * The report as {@code report.txt}, and the claim with nothing else as {@code claim.txt}: what may
 * be quoted, or why nothing may.
 */
public final class TextWriter implements ReportWriter {
  private static final int WIDTH = 88;

  @Override
  public void write(Report report, OutputSink sink) {
    sink.put("report.txt", new TextReport(WIDTH, false).of(report));
    sink.put("claim.txt", claim(report.headline()) + "\n");
  }

  private static String claim(Headline headline) {
    if (!headline.claimSentence().isEmpty()) {
      return SanitizedText.clean(headline.claimSentence());
    }
    String reason = headline.figure() instanceof Headline.NotSupported none ? none.reason() : "";
    return SanitizedText.clean("No claim can be made. " + reason).strip();
  }
}
