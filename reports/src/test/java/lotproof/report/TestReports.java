package lotproof.report;

import lotproof.report.model.Report;

/** The reports that tests of all packages use. */
public final class TestReports {
  private static final Report FULL = SampleReport.full();
  private static final Report HOSTILE = HostileReport.full();
  private static final Report EMPTY = HostileReport.empty();

  private TestReports() {}

  /** An ordinary, rich report. */
  public static Report full() {
    return FULL;
  }

  /** Words that want to be something else, and extreme numbers. */
  public static Report hostile() {
    return HOSTILE;
  }

  /** Nothing in it. */
  public static Report empty() {
    return EMPTY;
  }
}
