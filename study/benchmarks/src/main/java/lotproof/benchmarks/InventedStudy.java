package lotproof.benchmarks;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.RandomFactor;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/** Invented readings: cells sd 1, boards 0.5, pairs 0.1, readings 0.2. */
final class InventedStudy {
  private final int[] cell;
  private final int[] board;
  private final int[] pair;
  private final int cells;
  private final int boards;
  private final NormalizedGaussianSampler normal;

  private InventedStudy(
      int[] cell, int[] board, int[] pair, int cells, int boards, UniformRandomProvider random) {
    this.cell = cell;
    this.board = board;
    this.pair = pair;
    this.cells = cells;
    this.boards = boards;
    this.normal = ZigguratSampler.NormalizedGaussian.of(random);
  }

  /** Cell i meets boards i and i + 1; every pair is read twice. */
  static InventedStudy rotation(int units, long seed) {
    int readings = 4 * units;
    int[] cell = new int[readings];
    int[] board = new int[readings];
    int[] pair = new int[readings];
    for (int i = 0; i < readings; i++) {
      pair[i] = i / 2;
      cell[i] = i / 4;
      board[i] = (i / 4 + i / 2 % 2) % units;
    }
    return new InventedStudy(
        cell, board, pair, units, units, RandomSource.XO_SHI_RO_256_PP.create(seed));
  }

  /** Each cell is read on boards drawn at random. */
  static InventedStudy scattered(int cells, int boards, int readings, long seed) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(seed);
    int[] cell = new int[readings];
    int[] board = new int[readings];
    for (int i = 0; i < readings; i++) {
      cell[i] = (int) ((long) i * cells / readings);
      board[i] = random.nextInt(boards);
    }
    return new InventedStudy(cell, board, new int[0], cells, boards, random);
  }

  double[] values() {
    double[] cellEffects = draws(cells, 1);
    double[] boardEffects = draws(boards, 0.5);
    double[] pairEffects = draws(pair.length, 0.1);
    double[] values = new double[cell.length];
    for (int i = 0; i < values.length; i++) {
      double joint = pair.length > 0 ? pairEffects[pair[i]] : 0;
      values[i] = cellEffects[cell[i]] + boardEffects[board[i]] + joint + 0.2 * normal.sample();
    }
    return values;
  }

  private double[] draws(int count, double sd) {
    double[] result = new double[count];
    for (int i = 0; i < count; i++) {
      result[i] = sd * normal.sample();
    }
    return result;
  }

  Observations observations() {
    List<RandomFactor> factors = new ArrayList<>();
    factors.add(new RandomFactor(new Component("cell"), cell, cells));
    factors.add(new RandomFactor(new Component("board"), board, boards));
    if (pair.length > 0) {
      factors.add(new RandomFactor(new Component("pair"), pair, pair.length / 2));
    }
    return new Observations(values(), factors);
  }
}
