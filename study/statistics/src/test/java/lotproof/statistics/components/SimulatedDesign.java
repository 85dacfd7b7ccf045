package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.PermutationSampler;
import org.apache.commons.rng.sampling.distribution.AhrensDieterMarsagliaTsangGammaSampler;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;

/**
 * A way to measure, and invented populations of units to measure. Lots, where there are any, hold a
 * share of the variance of cells and of boards; boards are shuffled so that lots mix.
 *
 * @param kind disjoint pairs, rotation, blocks of 2 x 2, full crossing, or all on one reference
 *     unit
 * @param units cells, and as many boards
 * @param missing share of runs lost at random
 * @param repeated pairs that are read twice, the first ones
 * @param lotSizes units of each lot, the same for cells and boards; one lot for none
 * @param lotShare share of the variance of units that lies between lots
 * @param sds of cells, boards, pairs and readings
 * @param effects distribution of the effects of cells, boards and their lots
 */
record SimulatedDesign(
    Kind kind,
    int units,
    double missing,
    int repeated,
    List<Integer> lotSizes,
    double lotShare,
    List<Double> sds,
    Effects effects) {
  enum Kind {
    DISJOINT,
    ROTATION,
    BLOCKS,
    CROSSED,
    /** Every cell on the reference board, every board on the reference cell. */
    REFERENCE
  }

  /** Distributions of mean 0 and standard deviation 1. */
  enum Effects {
    NORMAL,
    /** Gamma of shape 16: skewness 0.5. */
    LIGHT_SKEW,
    /** Student's t with 6 degrees of freedom: excess kurtosis 3. */
    HEAVY_TAILS,
    UNIFORM;

    double[] draws(UniformRandomProvider random, int count, double sd) {
      NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
      double[] result = new double[count];
      for (int i = 0; i < count; i++) {
        result[i] =
            sd
                * switch (this) {
                  case NORMAL -> normal.sample();
                  case LIGHT_SKEW -> (gamma(random, 16) - 16) / 4;
                  case HEAVY_TAILS -> normal.sample() * Math.sqrt(2 / gamma(random, 3));
                  case UNIFORM -> (random.nextDouble() - 0.5) * Math.sqrt(12);
                };
      }
      return result;
    }

    private static double gamma(UniformRandomProvider random, double shape) {
      return AhrensDieterMarsagliaTsangGammaSampler.of(random, shape, 1).sample();
    }
  }

  /** Normal effects in lots of equal size. */
  SimulatedDesign(
      Kind kind,
      int units,
      double missing,
      int repeated,
      int lots,
      double lotShare,
      List<Double> sds) {
    this(
        kind,
        units,
        missing,
        repeated,
        Collections.nCopies(lots, units / lots),
        lotShare,
        sds,
        Effects.NORMAL);
  }

  SimulatedDesign withEffects(Effects other) {
    return new SimulatedDesign(kind, units, missing, repeated, lotSizes, lotShare, sds, other);
  }

  /** Where each reading of one study comes from. */
  private record Run(int cell, int board, int pair) {}

  private List<Run> runs(UniformRandomProvider random) {
    int[] board = PermutationSampler.natural(units);
    if (lotSizes.size() > 1) {
      PermutationSampler.shuffle(random, board);
    }
    List<Run> pairs = new ArrayList<>();
    if (kind == Kind.REFERENCE) {
      for (int i = 0; i < units; i++) {
        pairs.add(new Run(i, units, 2 * i));
        pairs.add(new Run(units, i, 2 * i + 1));
      }
      return withRepeats(pairs, random);
    }
    for (int i = 0; i < units; i++) {
      for (int other : partners(i)) {
        pairs.add(new Run(i, board[other], pairs.size()));
      }
    }
    return withRepeats(pairs, random);
  }

  private List<Run> withRepeats(List<Run> pairs, UniformRandomProvider random) {
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
      case REFERENCE -> throw new IllegalStateException("a reference unit has no partners in turn");
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
    int lots = lotSizes.size();
    double[] cellLot = effects.draws(random, lots, sds.get(0) * between);
    double[] boardLot = effects.draws(random, lots, sds.get(1) * between);
    double[] cell = effects.draws(random, units + 1, sds.get(0) * within);
    double[] board = effects.draws(random, units + 1, sds.get(1) * within);
    double[] pair = Studies.draws(normal, (units + 1) * (units + 1), sds.get(2));
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
    int lot = 0;
    int first = 0;
    while (lot < lotSizes.size() - 1 && unit >= first + lotSizes.get(lot)) {
      first += lotSizes.get(lot);
      lot++;
    }
    return lot;
  }

  private List<RandomFactor> factors(List<Run> runs) {
    if (kind == Kind.DISJOINT) {
      return List.of();
    }
    List<RandomFactor> factors = new ArrayList<>();
    if (lotSizes.size() > 1) {
      factors.add(Studies.numbered("cellLot", runs.stream().map(r -> lot(r.cell)).toList()));
      factors.add(Studies.numbered("boardLot", runs.stream().map(r -> lot(r.board)).toList()));
    }
    factors.add(Studies.numbered("cell", runs.stream().map(Run::cell).toList()));
    factors.add(Studies.numbered("board", runs.stream().map(Run::board).toList()));
    if (repeated > 0 && kind != Kind.REFERENCE) {
      factors.add(Studies.numbered("pair", runs.stream().map(Run::pair).toList()));
    }
    return factors;
  }

  /** Deviations of future kits from the mean, reading included. */
  double[] futureKits(UniformRandomProvider random, int count) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    double between = Math.sqrt(lotShare);
    double within = Math.sqrt(1 - lotShare);
    double[] kits = new double[count];
    for (int side = 0; side < 2; side++) {
      double[] lot = effects.draws(random, count, sds.get(side) * between);
      double[] unit = effects.draws(random, count, sds.get(side) * within);
      for (int i = 0; i < count; i++) {
        kits[i] += lot[i] + unit[i];
      }
    }
    double rest = Math.hypot(sds.get(2), sds.get(3));
    for (int i = 0; i < count; i++) {
      kits[i] += rest * normal.sample();
    }
    return kits;
  }
}
