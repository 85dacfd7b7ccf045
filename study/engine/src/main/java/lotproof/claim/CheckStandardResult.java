package lotproof.claim;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.reduce.ReducedRun;
import lotproof.review.CheckStandardBehaviour;
import lotproof.statistics.summary.Summary;
import lotproof.study.Characteristic;

/**
 * How the check standard behaved: the same pair, measured through all sessions.
 *
 * @param runs its runs in order
 * @param sensitivityMean mean sensitivity, mV/V
 * @param sensitivityRelativeSd standard deviation of the sensitivity as a fraction of its mean; 0
 *     with one run
 * @param behaviour whether the later runs keep the limits of the first ones
 */
public record CheckStandardResult(
    List<Run> runs,
    double sensitivityMean,
    double sensitivityRelativeSd,
    CheckStandardBehaviour behaviour) {
  /**
   * One run of the check standard.
   *
   * @param name the run
   * @param session the session
   * @param time when, if recorded
   * @param sensitivity mV/V
   * @param zero mV/V
   */
  public record Run(
      String name, String session, Optional<LocalDateTime> time, double sensitivity, double zero) {}

  public CheckStandardResult {
    runs = List.copyOf(runs);
  }

  static Optional<CheckStandardResult> of(List<ReducedRun> runs) {
    if (runs.isEmpty()) {
      return Optional.empty();
    }
    List<Run> rows = new ArrayList<>();
    for (ReducedRun run : runs) {
      double value = run.value(Characteristic.SENSITIVITY).orElseThrow();
      rows.add(
          new Run(
              run.run().name(),
              run.run().session(),
              run.run().readings().get(0).time(),
              value,
              run.value(Characteristic.ZERO).orElseThrow()));
    }
    double[] sensitivities = rows.stream().mapToDouble(Run::sensitivity).toArray();
    double mean = Summary.mean(sensitivities);
    double sd = rows.size() < 2 ? 0 : Summary.sd(sensitivities);
    return Optional.of(
        new CheckStandardResult(rows, mean, sd / mean, CheckStandardBehaviour.of(runs)));
  }
}
