package lotproof.review;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.gauge.CheckStandardChart;
import lotproof.statistics.sequence.Trend;
import lotproof.study.Characteristic;

/** Whether the bench still measures the check standard as it did at first. */
public sealed interface CheckStandardBehaviour {
  /** Runs of the baseline: the first third, at least so many. */
  int FEWEST_BASELINE_RUNS = 6;

  /** Chance of a false alarm at one run; the customary three standard deviations. */
  double FALSE_ALARM = 0.0027;

  /** A trend rarer than this by chance is reported. */
  double TREND_LEVEL = 0.01;

  /**
   * Held against limits.
   *
   * @param runs runs of the check standard
   * @param baselineRuns how many of the first of them set the limits
   * @param centre mean sensitivity of the baseline, mV/V
   * @param lower lower control limit, mV/V
   * @param upper upper control limit, mV/V
   * @param last sensitivity of the last run, mV/V
   * @param trendPValue how often chance alone gives so clear a trend over all runs
   * @param alarms what is off, in words; empty while the bench is steady
   */
  record Judged(
      int runs,
      int baselineRuns,
      double centre,
      double lower,
      double upper,
      double last,
      double trendPValue,
      List<String> alarms)
      implements CheckStandardBehaviour {
    public Judged {
      alarms = List.copyOf(alarms);
    }
  }

  /** Not yet to be judged. */
  record NotYet(String reason) implements CheckStandardBehaviour {}

  /** Judges the runs of the check standard by their sensitivity, in the order of the record. */
  static CheckStandardBehaviour of(List<ReducedRun> ofCheckStandard) {
    List<ReducedRun> runs =
        ofCheckStandard.stream()
            .filter(run -> run.value(Characteristic.SENSITIVITY).isPresent())
            .toList();
    if (runs.size() < FEWEST_BASELINE_RUNS + 1) {
      return new NotYet(
          runs.size()
              + " complete runs of the check standard; control limits need "
              + (FEWEST_BASELINE_RUNS + 1)
              + ".");
    }
    double[] values =
        runs.stream()
            .mapToDouble(run -> run.value(Characteristic.SENSITIVITY).orElseThrow())
            .toArray();
    int baseline = Math.max(FEWEST_BASELINE_RUNS, values.length / 3);
    double[] first = Arrays.copyOf(values, baseline);
    double[] later = Arrays.copyOfRange(values, baseline, values.length);
    if (Arrays.stream(first).distinct().count() < 2) {
      return new NotYet(
          "The first runs of the check standard are all equal, which no bench shows.");
    }
    CheckStandardChart chart = CheckStandardChart.of(first, FALSE_ALARM);
    List<String> alarms = new ArrayList<>();
    for (CheckStandardChart.Alarm alarm : chart.judge(later)) {
      String run = runs.get(baseline + alarm.index()).run().name();
      alarms.add(
          String.format(
              Locale.ROOT,
              "run %s: %.6f mV/V %s",
              run,
              alarm.value(),
              switch (alarm.signal()) {
                case BEYOND_LIMITS -> "is outside the control limits";
                case JUMP -> "is too far from the run before";
                case LONG_RUN -> "ends a long row on one side of the centre";
              }));
    }
    Trend trend = Trend.of(values);
    if (trend.adjustedPValue() < TREND_LEVEL) {
      alarms.add(
          String.format(
              Locale.ROOT, "a trend over all runs (chance alone: %.2g)", trend.adjustedPValue()));
    }
    return new Judged(
        values.length,
        baseline,
        chart.centre(),
        chart.lower(),
        chart.upper(),
        values[values.length - 1],
        trend.adjustedPValue(),
        alarms);
  }
}
