package lotproof.report.words;

import lotproof.claim.evidence.StepTimes;

/** Times between the steps of runs, in words. */
final class TimeWords {
  private TimeWords() {}

  /** For the footnote of a claim. */
  static String of(StepTimes times) {
    String median = "each step read " + seconds(times.medianSeconds()) + " after the one before it";
    return times.shortestSeconds() == times.longestSeconds()
        ? median
        : median
            + " (median; "
            + seconds(times.shortestSeconds())
            + " to "
            + seconds(times.longestSeconds())
            + ")";
  }

  private static String seconds(double seconds) {
    return seconds < 120
        ? Numbers.digits(seconds, 3) + " s"
        : Numbers.digits(seconds / 60, 3) + " min";
  }
}
