package lotproof.claim.evidence;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.reduce.LoadRun;
import lotproof.study.Reading;

/**
 * How long after the step before it a step was read, as far as the record says: no load had stood
 * longer than that. Sheets with one time for a whole run do not say it.
 */
public record StepTimes(double shortestSeconds, double medianSeconds, double longestSeconds) {

  /** The times of some runs; empty where no step has a time of its own. */
  public static Optional<StepTimes> of(List<LoadRun> runs) {
    double[] seconds =
        runs.stream()
            .flatMapToDouble(
                run ->
                    IntStream.range(1, run.readings().size())
                        .mapToObj(i -> between(run.readings().get(i - 1), run.readings().get(i)))
                        .flatMap(Optional::stream)
                        .mapToDouble(Duration::toSeconds)
                        .filter(s -> s > 0))
            .sorted()
            .toArray();
    int n = seconds.length;
    return n == 0
        ? Optional.empty()
        : Optional.of(
            new StepTimes(
                seconds[0], 0.5 * (seconds[(n - 1) / 2] + seconds[n / 2]), seconds[n - 1]));
  }

  private static Optional<Duration> between(Reading before, Reading now) {
    return before.time().flatMap(from -> now.time().map(to -> Duration.between(from, to)));
  }
}
