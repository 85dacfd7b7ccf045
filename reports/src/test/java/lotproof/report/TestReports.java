package lotproof.report;

import lotproof.report.model.Report;

/** The reports that tests of all packages use. */
public final class TestReports {
  private TestReports() {}

  /** An ordinary, rich report. */
  public static Report full() {
    return SampleReport.full();
  }

  /** Words that want to be something else, and extreme numbers. */
  public static Report hostile() {
    return HostileReport.full();
  }

  /** Nothing in it. */
  public static Report empty() {
    return HostileReport.empty();
  }
}
