package lotproof.review;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.reduce.LoadRun;
import lotproof.statistics.summary.Summary;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * Finds readings so far from all others that a fit would see nothing but them: more than 100 times
 * the rated output of the kit, or, with eight runs or more of the same loads, more than 1000
 * spreads from the median at their step. The spread is the median absolute deviation, and at least
 * 0.1 % of the rated output. No unit is that odd; such a reading is a mistake of the bench or of a
 * file, and belongs corrected or excluded, with its cause.
 */
public final class FarReadings {
  private static final double MOST_RATED_OUTPUTS = 100;
  private static final double MOST_SPREADS = 1000;
  private static final double SMALLEST_SPREAD_SHARE = 1e-3;
  private static final int FEWEST_TO_COMPARE = 8;

  private FarReadings() {}

  /** One issue for each such reading, in the order of the runs. */
  public static List<DataIssue> of(Kit kit, List<LoadRun> runs) {
    double rated = kit.defaultFactorCountsPerKilogram() * kit.capacityKilograms();
    Map<List<Double>, List<LoadRun>> byLoads =
        runs.stream()
            .collect(
                Collectors.groupingBy(
                    LoadRun::loadsKilograms, LinkedHashMap::new, Collectors.toList()));
    List<DataIssue> issues = new ArrayList<>();
    byLoads.forEach(
        (loads, alike) -> {
          for (int step = 0; step < loads.size(); step++) {
            atStep(alike, step, rated, issues);
          }
        });
    return List.copyOf(issues);
  }

  private static void atStep(List<LoadRun> runs, int step, double rated, List<DataIssue> issues) {
    double[] outputs =
        runs.stream().mapToDouble(run -> run.readings().get(step).outputCounts()).toArray();
    double median = Summary.median(outputs);
    double spread =
        Math.max(
            SMALLEST_SPREAD_SHARE * rated,
            Summary.median(Arrays.stream(outputs).map(o -> Math.abs(o - median)).toArray()));
    for (int i = 0; i < outputs.length; i++) {
      double spreads = Math.abs(outputs[i] - median) / spread;
      double rates = Math.abs(outputs[i]) / rated;
      if (outputs.length >= FEWEST_TO_COMPARE && spreads > MOST_SPREADS) {
        String far =
            String.format(
                Locale.ROOT,
                "is %.0f spreads from the median of the other runs, %.0f counts",
                spreads,
                median);
        issues.add(issue(runs.get(i), step, far));
      } else if (rates > MOST_RATED_OUTPUTS) {
        String large = String.format(Locale.ROOT, "is %.0f times the rated output", rates);
        issues.add(issue(runs.get(i), step, large));
      }
    }
  }

  private static DataIssue issue(LoadRun run, int step, String how) {
    Reading reading = run.readings().get(step);
    return DataIssue.warning(
        Code.OUT_OF_RANGE,
        "readings.csv",
        reading.recordLine(),
        "output [counts]",
        run.pair(),
        String.format(
            Locale.ROOT,
            "run %s, step %d: an output of %s counts (%s, row %d) %s; exclude the run with its"
                + " cause (lotproof review), and measure it again",
            run.name(),
            reading.step(),
            BigDecimal.valueOf(reading.outputCounts()).stripTrailingZeros().toPlainString(),
            reading.source().file(),
            reading.source().row(),
            how));
  }
}
