package lotproof.review;

import java.time.LocalDateTime;
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
 * @param sensitivityRelativeSd standard deviation of the sensitivity as a fraction of its mean; 0
 *     with one run
 * @param behaviour whether the later runs keep the limits of the first ones
 */
public record CheckStandardResult(
    List<Run> runs, double sensitivityMean, double sensitivityRelativeSd, Behaviour behaviour) {
  /** Runs of the baseline: the first third, at least so many. */
  public static final int FEWEST_BASELINE_RUNS = 6;

  /** Chance of a false alarm at one run; the customary three standard deviations. */
  private static final double FALSE_ALARM = 0.0027;

  /** A trend rarer than this by chance is reported. */
  private static final double TREND_LEVEL = 0.01;

  /** One run of the check standard; sensitivity and zero in mV/V. */
  public record Run(
      String name, String session, Optional<LocalDateTime> time, double sensitivity, double zero) {}

  /** Whether the bench still measures the check standard as it did at first. */
  public sealed interface Behaviour {}

  /**
   * Held against limits.
   *
   * @param baselineRuns how many of the first of them set the limits
   * @param centre mean sensitivity of the baseline, mV/V
   * @param trendPValue how often chance alone gives so clear a trend over all runs
   * @param alarms runs that break a rule of the chart
   */
  public record Judged(
      int runs,
      int baselineRuns,
      double centre,
      double lower,
      double upper,
      double last,
      double trendPValue,
      List<Alarm> alarms)
      implements Behaviour {
    public Judged {
      alarms = List.copyOf(alarms);
    }

    public boolean hasTrend() {
      return trendPValue < TREND_LEVEL;
    }

    /** Whether nothing is off. */
    public boolean steady() {
      return alarms.isEmpty() && !hasTrend();
    }
  }

  /** A run of the check standard that breaks a rule; its sensitivity in mV/V. */
  public record Alarm(String run, double sensitivity, CheckStandardChart.Signal signal) {}

  /** Too few runs, or first runs that are all equal, which no bench shows. */
  public record NotYet(int runs) implements Behaviour {}

  public CheckStandardResult {
    runs = List.copyOf(runs);
  }

  /** What the reduced runs say; empty without a run. */
  public static Optional<CheckStandardResult> of(List<ReducedRun> reduced) {
    if (reduced.isEmpty()) {
      return Optional.empty();
    }
    List<Run> runs =
        reduced.stream()
            .map(
                run ->
                    new Run(
                        run.run().name(),
                        run.run().session(),
                        run.run().readings().get(0).time(),
                        run.value(Characteristic.SENSITIVITY).orElseThrow(),
                        run.value(Characteristic.ZERO).orElseThrow()))
            .toList();
    double[] sensitivities = runs.stream().mapToDouble(Run::sensitivity).toArray();
    double mean = Summary.mean(sensitivities);
    double sd = runs.size() < 2 ? 0 : Summary.sd(sensitivities);
    return Optional.of(new CheckStandardResult(runs, mean, sd / mean, behaviour(runs)));
  }

  private static Behaviour behaviour(List<Run> runs) {
    double[] values = runs.stream().mapToDouble(Run::sensitivity).toArray();
    int baseline = Math.max(FEWEST_BASELINE_RUNS, values.length / 3);
    if (values.length <= FEWEST_BASELINE_RUNS
        || Arrays.stream(values, 0, baseline).distinct().count() < 2) {
      return new NotYet(values.length);
    }
    CheckStandardChart chart = CheckStandardChart.of(Arrays.copyOf(values, baseline), FALSE_ALARM);
    List<Alarm> alarms =
        chart.judge(Arrays.copyOfRange(values, baseline, values.length)).stream()
            .map(a -> new Alarm(runs.get(baseline + a.index()).name(), a.value(), a.signal()))
            .toList();
    return new Judged(
        values.length,
        baseline,
        chart.centre(),
        chart.lower(),
        chart.upper(),
        values[values.length - 1],
        Trend.of(values).adjustedPValue(),
        alarms);
  }
}
