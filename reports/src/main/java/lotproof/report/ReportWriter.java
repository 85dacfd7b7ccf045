package lotproof.report;

import lotproof.report.model.Report;

/**
 * Turns a report into files. Writers round, escape and lay out; they compute nothing. The same
 * report gives the same bytes on every run.
 */
public interface ReportWriter {

  /**
   * Writes the report.
   *
   * @throws java.io.UncheckedIOException if the sink cannot take it
   */
  void write(Report report, OutputSink sink);
}
