package lotproof.reduce;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.statistics.summary.Summary;
import lotproof.study.Characteristic;

/**
 * What was found on one pair over all its runs.
 *
 * @param cell serial of the cell
 * @param board serial of the board
 * @param runs how many runs the pair has
 * @param means mean over the runs, by characteristic
 * @param repeatabilityGrams standard deviation of the tared indication between the pair's runs,
 *     pooled over the loads above zero; absent with one run
 */
public record PairSummary(
    String cell,
    String board,
    int runs,
    Map<Characteristic, Double> means,
    OptionalDouble repeatabilityGrams) {

  /** One summary for each pair, in the order in which the pairs first appear. */
  public static List<PairSummary> of(List<ReducedRun> runs) {
    Map<String, List<ReducedRun>> byPair = new LinkedHashMap<>();
    for (ReducedRun run : runs) {
      byPair.computeIfAbsent(run.run().pair(), p -> new ArrayList<>()).add(run);
    }
    return byPair.values().stream().map(PairSummary::summary).toList();
  }

  private static PairSummary summary(List<ReducedRun> runs) {
    LoadRun first = runs.get(0).run();
    return new PairSummary(
        first.cell(), first.board(), runs.size(), means(runs), repeatability(runs));
  }

  /** Mean over runs, by characteristic. */
  static Map<Characteristic, Double> means(List<ReducedRun> runs) {
    Map<Characteristic, Double> means = new EnumMap<>(Characteristic.class);
    for (Characteristic characteristic : Characteristic.values()) {
      runs.stream()
          .flatMapToDouble(run -> run.value(characteristic).stream())
          .average()
          .ifPresent(mean -> means.put(characteristic, mean));
    }
    return means;
  }

  /** Only loads that every run has at the same step are compared. */
  private static OptionalDouble repeatability(List<ReducedRun> runs) {
    if (runs.size() < 2) {
      return OptionalDouble.empty();
    }
    double meanSlope =
        runs.stream().mapToDouble(ReducedRun::slopeCountsPerKilogram).average().orElseThrow();
    int steps = runs.stream().mapToInt(r -> r.run().readings().size()).min().orElseThrow();
    double squares = 0;
    int degreesOfFreedom = 0;
    for (int step = 1; step < steps; step++) {
      int index = step;
      double load = runs.get(0).run().loadsKilograms().get(step);
      if (load > 0 && runs.stream().allMatch(r -> r.run().loadsKilograms().get(index) == load)) {
        double[] net =
            runs.stream()
                .mapToDouble(r -> netCounts(r.run(), index) - meanSlope * added(runs, r, index))
                .toArray();
        double sd = Summary.sd(net);
        squares += sd * sd * (net.length - 1);
        degreesOfFreedom += net.length - 1;
      }
    }
    return degreesOfFreedom == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(1000 * Math.sqrt(squares / degreesOfFreedom) / meanSlope);
  }

  /** What the mass of a run differs from that of the first one. */
  private static double added(List<ReducedRun> runs, ReducedRun run, int index) {
    return run.run().massKilograms(index) - runs.get(0).run().massKilograms(index);
  }

  private static double netCounts(LoadRun run, int index) {
    return run.readings().get(index).outputCounts() - run.readings().get(0).outputCounts();
  }
}
