package lotproof.review;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.reduce.LoadRun;
import lotproof.study.BenchTimes;

/**
 * How long the bench is still needed.
 *
 * @param runs runs of the study's units that are missing
 * @param hours bench hours for them, warm-ups and the check standard included
 * @param basis where the time of a run comes from, in words
 */
public record BenchTimeLeft(int runs, double hours, String basis) {
  private static final int FEWEST_GAPS = 5;

  /** By the planned times. */
  public static BenchTimeLeft planned(int runs, BenchTimes times) {
    return new BenchTimeLeft(
        runs, runs == 0 ? 0 : times.hoursFor(runs), "planned minutes of mount, run and warm-up");
  }

  /**
   * By the times in the record: the median time from the start of one run to the start of the next
   * in the same session, for the missing runs and their part of check runs. Empty when too few
   * times were noted.
   *
   * @param recorded runs in the order of the record, the check standard's included
   * @param checkRuns how many of them are the check standard's
   */
  public static Optional<BenchTimeLeft> measured(int runs, List<LoadRun> recorded, int checkRuns) {
    Map<String, LoadRun> lastOfSession = new LinkedHashMap<>();
    List<Double> minutes = new ArrayList<>();
    for (LoadRun run : recorded) {
      LoadRun before = lastOfSession.put(run.session(), run);
      if (before == null) {
        continue;
      }
      before
          .readings()
          .get(0)
          .time()
          .flatMap(from -> run.readings().get(0).time().map(to -> Duration.between(from, to)))
          .filter(gap -> !gap.isNegative() && !gap.isZero())
          .ifPresent(gap -> minutes.add(gap.toSeconds() / 60.0));
    }
    if (minutes.size() < FEWEST_GAPS) {
      return Optional.empty();
    }
    Collections.sort(minutes);
    double median = minutes.get(minutes.size() / 2);
    int ofUnits = Math.max(1, recorded.size() - checkRuns);
    double withChecks = runs * (1 + checkRuns / (double) ofUnits);
    return Optional.of(
        new BenchTimeLeft(
            runs, withChecks * median / 60, "median time between runs in the record"));
  }
}
