package lotproof.review;

import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/**
 * A single reading that stands out from those of other runs at the same step of the run. Each
 * reading becomes its distance from the run's own reference line, (u_j - u_0) / b - x_j in grams,
 * and is compared with those of all runs at the same step by the generalized extreme Studentized
 * deviate test (Rosner 1983) at 5 % shared by the steps (Bonferroni). A unit with an unusual bow
 * shows here too, in all its runs.
 *
 * @param step position within the run, counted from 1
 * @param deviationGrams indication on the run's own reference line minus the load
 * @param medianGrams median of that over all runs
 * @param test how it was told from the readings of the other runs
 * @param sameUnits deviations at this step in the other runs of its cell or board
 * @param remark what the bench wrote beside the reading; empty when nothing
 * @param source file and row of the reading
 */
public record ReadingFinding(
    String run,
    String cell,
    String board,
    int step,
    double loadKilograms,
    double deviationGrams,
    double medianGrams,
    Finding.OutlierTest test,
    List<Finding.Evidence> sameUnits,
    String remark,
    Provenance source) {
  private static final double LEVEL = 0.05;
  private static final int FEWEST_TO_COMPARE = 8;
  private static final int MOST_OUTLIERS = 5;

  public ReadingFinding {
    sameUnits = List.copyOf(sameUnits);
  }

  /** Readings of these runs that stand out, the most extreme first. */
  public static List<ReadingFinding> of(List<ReducedRun> runs) {
    return runs.stream()
        .collect(
            Collectors.groupingBy(
                run -> run.run().loadsKilograms(), LinkedHashMap::new, Collectors.toList()))
        .values()
        .stream()
        .filter(alike -> alike.size() >= FEWEST_TO_COMPARE)
        .flatMap(
            alike ->
                IntStream.range(1, alike.get(0).run().readings().size())
                    .boxed()
                    .flatMap(step -> atStep(alike, step)))
        .sorted(Comparator.comparingDouble(f -> -f.test().excess()))
        .toList();
  }

  private static Stream<ReadingFinding> atStep(List<ReducedRun> runs, int index) {
    double[] deviations = runs.stream().mapToDouble(run -> grams(run, index)).toArray();
    // a step that the terminal line goes through is the same in all runs but for rounding
    boolean fixed = Arrays.stream(deviations).allMatch(d -> Math.abs(d) < 1e-6);
    if (fixed || Arrays.stream(deviations).distinct().count() < 3) {
      return Stream.empty();
    }
    int steps = runs.get(0).run().readings().size() - 1;
    int most = Math.min(MOST_OUTLIERS, deviations.length / 4);
    double median = Arrays.stream(deviations).sorted().toArray()[deviations.length / 2];
    return GeneralizedEsd.test(deviations, most, LEVEL / steps).extremes().stream()
        .map(
            extreme -> {
              LoadRun run = runs.get(extreme.index()).run();
              Reading reading = run.readings().get(index);
              return new ReadingFinding(
                  run.name(),
                  run.cell(),
                  run.board(),
                  reading.step(),
                  run.loadsKilograms().get(index),
                  deviations[extreme.index()],
                  median,
                  new Finding.OutlierTest(
                      extreme.statistic(), extreme.criticalValue(), deviations.length),
                  sameUnits(runs, run, deviations),
                  reading.beside().remark(),
                  reading.source());
            });
  }

  private static List<Finding.Evidence> sameUnits(
      List<ReducedRun> runs, LoadRun of, double[] deviations) {
    return IntStream.range(0, runs.size())
        .filter(i -> !runs.get(i).run().name().equals(of.name()))
        .filter(
            i ->
                runs.get(i).run().cell().equals(of.cell())
                    || runs.get(i).run().board().equals(of.board()))
        .mapToObj(i -> Finding.Evidence.of(runs.get(i).run(), deviations[i]))
        .toList();
  }

  private static double grams(ReducedRun run, int index) {
    List<Reading> readings = run.run().readings();
    double net = readings.get(index).outputCounts() - readings.get(0).outputCounts();
    return 1000 * (net / run.slopeCountsPerKilogram() - readings.get(index).loadKilograms());
  }
}
