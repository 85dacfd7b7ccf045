package lotproof.review;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.study.Reading;

/**
 * Finds single readings that stand out. Each reading becomes its distance from the run's own
 * reference line, (u_j - u_0) / b - x_j in grams, and is compared with those of all runs at the
 * same step by the generalized extreme Studentized deviate test (Rosner 1983) at 5 % shared by the
 * steps (Bonferroni). A unit with an unusual bow shows here too, in all its runs.
 */
public final class ExtremeReadings {
  private static final double LEVEL = 0.05;
  private static final int FEWEST_TO_COMPARE = 8;
  private static final int MOST_OUTLIERS = 5;

  /** Readings that stand out, the most extreme first. */
  public List<ReadingFinding> of(List<ReducedRun> runs) {
    Map<List<Double>, List<ReducedRun>> byLoads =
        runs.stream()
            .collect(
                Collectors.groupingBy(
                    run -> run.run().loadsKilograms(), LinkedHashMap::new, Collectors.toList()));
    List<ReadingFinding> findings = new ArrayList<>();
    byLoads.forEach(
        (loads, alike) -> {
          if (alike.size() >= FEWEST_TO_COMPARE) {
            IntStream.range(1, loads.size())
                .forEach(step -> findings.addAll(atStep(alike, step, loads.size() - 1)));
          }
        });
    findings.sort(Comparator.comparingDouble((ReadingFinding f) -> -f.test().excess()));
    return List.copyOf(findings);
  }

  private static List<ReadingFinding> atStep(List<ReducedRun> runs, int index, int steps) {
    double[] deviations = runs.stream().mapToDouble(run -> grams(run, index)).toArray();
    // a step that the terminal line goes through is the same in all runs but for rounding
    boolean fixed = Arrays.stream(deviations).allMatch(d -> Math.abs(d) < 1e-6);
    if (fixed || Arrays.stream(deviations).distinct().count() < 3) {
      return List.of();
    }
    int most = Math.min(MOST_OUTLIERS, deviations.length / 4);
    double[] sorted = deviations.clone();
    Arrays.sort(sorted);
    double median = sorted[sorted.length / 2];
    return GeneralizedEsd.test(deviations, most, LEVEL / steps).extremes().stream()
        .map(
            extreme -> {
              ReducedRun run = runs.get(extreme.index());
              Reading reading = run.run().readings().get(index);
              return new ReadingFinding(
                  run.run().name(),
                  run.run().cell(),
                  run.run().board(),
                  reading.step(),
                  run.run().loadsKilograms().get(index),
                  deviations[extreme.index()],
                  median,
                  new Finding.OutlierTest(
                      extreme.statistic(), extreme.criticalValue(), deviations.length),
                  sameUnits(runs, run, index),
                  reading.beside().remark(),
                  reading.source());
            })
        .toList();
  }

  private static List<Finding.Evidence> sameUnits(List<ReducedRun> runs, ReducedRun of, int index) {
    return runs.stream()
        .filter(
            run ->
                !run.run().name().equals(of.run().name())
                    && (run.run().cell().equals(of.run().cell())
                        || run.run().board().equals(of.run().board())))
        .map(
            run ->
                new Finding.Evidence(
                    run.run().name(), run.run().cell(), run.run().board(), grams(run, index)))
        .toList();
  }

  private static double grams(ReducedRun run, int index) {
    List<Reading> readings = run.run().readings();
    double net = readings.get(index).outputCounts() - readings.get(0).outputCounts();
    return 1000 * (net / run.slopeCountsPerKilogram() - readings.get(index).loadKilograms());
  }
}
