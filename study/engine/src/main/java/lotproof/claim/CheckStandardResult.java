package lotproof.claim;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.gauge.CheckStandardChart;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.summary.Summary;
import lotproof.study.Characteristic;

/**
 * How the check standard behaved: the same pair, measured through all sessions.
 *
 * @param runs its runs in order
 * @param sensitivityMean mean sensitivity, mV/V
 * @param sensitivityRelativeSd standard deviation of the sensitivity as a fraction of its mean; 0
 *     with one run
 * @param watch how steady it was; absent with fewer than six runs or equal values
 */
public record CheckStandardResult(
    List<Run> runs, double sensitivityMean, double sensitivityRelativeSd, Optional<Watch> watch) {
  private static final int FEWEST_FOR_CHART = 6;

  /** Chance of a false alarm at one run; what three standard deviations have by custom. */
  private static final double FALSE_ALARM = 0.0027;

  /** From this chance on a drift is worth a line. */
  private static final double NOTABLE_LEVEL = 0.01;

  /**
   * The chart of the check standard, its limits from all its runs, and its drift.
   *
   * @param chart centre and limits, from moving ranges, so that a slow drift widens them little
   * @param alarms runs that signal
   * @param drift straight trend over the runs, memory from run to run allowed for
   * @param drifts whether the drift is more than chance explains
   */
  public record Watch(
      CheckStandardChart chart,
      List<CheckStandardChart.Alarm> alarms,
      Trend drift,
      boolean drifts) {
    public Watch {
      alarms = List.copyOf(alarms);
    }

    private static Optional<Watch> of(double[] sensitivities) {
      boolean varied = Arrays.stream(sensitivities).distinct().count() > 2;
      if (sensitivities.length < FEWEST_FOR_CHART || !varied) {
        return Optional.empty();
      }
      CheckStandardChart chart = CheckStandardChart.of(sensitivities, FALSE_ALARM);
      Trend drift = Trend.of(sensitivities);
      return Optional.of(
          new Watch(
              chart, chart.judge(sensitivities), drift, drift.honestPValue() < NOTABLE_LEVEL));
    }
  }

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
    return Optional.of(new CheckStandardResult(rows, mean, sd / mean, Watch.of(sensitivities)));
  }
}
