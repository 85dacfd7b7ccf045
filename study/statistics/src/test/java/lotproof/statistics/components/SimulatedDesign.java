package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.PermutationSampler;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;

/**
 * A way to measure, and invented populations of units to measure. Lots, where there are any, hold a
 * share of the variance of cells and of boards; boards are shuffled so that lots mix.
 *
 * @param kind disjoint pairs, rotation, blocks of 2 x 2 or full crossing
 * @param units cells, and as many boards
 * @param missing share of runs lost at random
 * @param repeated pairs that are read twice, the first ones
 * @param lots lots of each kind, 1 for none
 * @param lotShare share of the variance of units that lies between lots
 * @param sds of cells, boards, pairs and readings
 */
record SimulatedDesign(
    Kind kind,
    int units,
    double missing,
    int repeated,
    int lots,
    double lotShare,
    List<Double> sds) {
  enum Kind {
    DISJOINT,
    ROTATION,
    BLOCKS,
    CROSSED
  }

  static final List<String> FINEST_FIRST =
      List.of("residual", "pair", "board", "cell", "boardLot", "cellLot");

  /** Where each reading of one study comes from. */
  private record Run(int cell, int board, int pair) {}

  private List<Run> runs(UniformRandomProvider random) {
    int[] board = PermutationSampler.natural(units);
    if (lots > 1) {
      PermutationSampler.shuffle(random, board);
    }
    List<Run> pairs = new ArrayList<>();
    for (int i = 0; i < units; i++) {
      for (int other : partners(i)) {
        pairs.add(new Run(i, board[other], pairs.size()));
      }
    }
    List<Run> runs = new ArrayList<>();
    for (Run run : pairs) {
      if (random.nextDouble() >= missing) {
        runs.add(run);
        if (run.pair < repeated) {
          runs.add(run);
        }
      }
    }
    return runs;
  }

  private int[] partners(int i) {
    return switch (kind) {
      case DISJOINT -> new int[] {i};
      case ROTATION -> new int[] {i, (i + 1) % units};
      case BLOCKS -> new int[] {i / 2 * 2, i / 2 * 2 + 1};
      case CROSSED -> PermutationSampler.natural(units);
    };
  }

  double totalVariance(boolean withReading) {
    double sum = withReading ? sds.get(3) * sds.get(3) : 0;
    for (double sd : sds.subList(0, 3)) {
      sum += sd * sd;
    }
    return sum;
  }

  /** One study around a mean. The pair is in the model where repeats tell it from the reading. */
  Observations draw(UniformRandomProvider random, double mean) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    List<Run> runs = runs(random);
    double between = Math.sqrt(lotShare);
    double within = Math.sqrt(1 - lotShare);
    double[] cellLot = Studies.draws(normal, lots, sds.get(0) * between);
    double[] boardLot = Studies.draws(normal, lots, sds.get(1) * between);
    double[] cell = Studies.draws(normal, units, sds.get(0) * within);
    double[] board = Studies.draws(normal, units, sds.get(1) * within);
    double[] pair = Studies.draws(normal, units * units, sds.get(2));
    double[] values = new double[runs.size()];
    for (int i = 0; i < values.length; i++) {
      Run run = runs.get(i);
      values[i] =
          mean
              + cellLot[lot(run.cell)]
              + boardLot[lot(run.board)]
              + cell[run.cell]
              + board[run.board]
              + pair[run.pair]
              + sds.get(3) * normal.sample();
    }
    return new Observations(values, factors(runs));
  }

  private int lot(int unit) {
    return (int) ((long) unit * lots / units);
  }

  private List<RandomFactor> factors(List<Run> runs) {
    if (kind == Kind.DISJOINT) {
      return List.of();
    }
    List<RandomFactor> factors = new ArrayList<>();
    factors.add(Studies.numbered("cell", runs.stream().map(Run::cell).toList()));
    factors.add(Studies.numbered("board", runs.stream().map(Run::board).toList()));
    if (repeated > 0) {
      factors.add(Studies.numbered("pair", runs.stream().map(Run::pair).toList()));
    }
    if (lots > 1) {
      factors.add(Studies.numbered("cellLot", runs.stream().map(r -> lot(r.cell)).toList()));
      factors.add(Studies.numbered("boardLot", runs.stream().map(r -> lot(r.board)).toList()));
    }
    return factors;
  }
}
