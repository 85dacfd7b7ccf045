package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.text;

import lotproof.claim.evidence.StepTimes;

/** Times between the steps of runs, in words. */
final class TimeWords {
  private TimeWords() {}

  /** For the footnote of a claim. */
  static String of(StepTimes times) {
    String median = "each step read " + seconds(times.medianSeconds()) + " after the one before it";
    return times.shortestSeconds() == times.longestSeconds()
        ? median
        : text(
            "%s (median; %s to %s)",
            median, seconds(times.shortestSeconds()), seconds(times.longestSeconds()));
  }

  private static String seconds(double seconds) {
    return seconds < 120 ? digits(seconds, 3) + " s" : digits(seconds / 60, 3) + " min";
  }
}
