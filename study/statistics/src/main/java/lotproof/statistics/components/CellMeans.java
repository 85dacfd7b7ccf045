package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import lotproof.statistics.components.Observations.FixedColumn;
import org.jspecify.annotations.Nullable;

/**
 * The observations in the form in which a likelihood needs them: centred, scaled, and with
 * observations of identical levels replaced by their mean.
 *
 * <p>Replacing r observations of one combination of levels by their mean and keeping the pooled
 * within-combination sum of squares W with nu = sum(r - 1) degrees of freedom loses nothing: mean
 * and differences from it are independent, and the differences carry the residual alone. The mean
 * has residual variance theta_e / r.
 */
final class CellMeans {
  final Observations observations;
  final int rows;

  /** Row of each observation. */
  final int[] rowOf;

  /** Observations behind each row. */
  final double[] readings;

  /** Centred and scaled row means. */
  final double[] y;

  /** Level of each row, for each factor. */
  final int[][] level;

  final int[] levelCount;

  /** Columns of known influences, row by row; the first is 1 throughout. */
  final double[][] fixed;

  final double shift;
  final double scale;
  final double withinSquares;
  final int withinDegreesOfFreedom;
  final double sumLogReadings;

  /** Index of the factor that has a level of its own for each row, or -1. */
  final int rowFactor;

  /** What was grouped first; its values may differ. */
  private final CellMeans structure;

  private @Nullable EliminationOrder order;
  private double @Nullable [][] startInformation;

  CellMeans(Observations observations) {
    this.observations = observations;
    this.structure = this;
    this.rowOf = new int[observations.size()];
    this.rows = group(observations, rowOf);
    Scaling scaling = Scaling.of(observations);
    this.shift = scaling.shift;
    this.scale = scaling.scale;
    this.readings = new double[rows];
    for (int row : rowOf) {
      readings[row]++;
    }
    List<RandomFactor> factors = observations.factors();
    this.level = new int[factors.size()][rows];
    this.levelCount = new int[factors.size()];
    for (int k = 0; k < level.length; k++) {
      levelCount[k] = factors.get(k).levelCount();
      for (int i = 0; i < rowOf.length; i++) {
        level[k][rowOf[i]] = factors.get(k).level(i);
      }
    }
    this.fixed = fixedColumns(observations, rowOf, rows);
    this.sumLogReadings = Arrays.stream(readings).map(Math::log).sum();
    this.y = scaledMeans();
    this.withinDegreesOfFreedom = rowOf.length - rows;
    this.withinSquares = withinSquares();
    this.rowFactor = findRowFactor();
  }

  /** The structure of another with other values. */
  CellMeans(CellMeans other, Observations observations) {
    this.observations = observations;
    this.structure = other;
    this.rowOf = other.rowOf;
    this.rows = other.rows;
    Scaling scaling = Scaling.of(observations);
    this.shift = scaling.shift;
    this.scale = scaling.scale;
    this.readings = other.readings;
    this.level = other.level;
    this.levelCount = other.levelCount;
    this.fixed = other.fixed;
    this.sumLogReadings = other.sumLogReadings;
    this.rowFactor = other.rowFactor;
    this.y = scaledMeans();
    this.withinDegreesOfFreedom = other.withinDegreesOfFreedom;
    this.withinSquares = withinSquares();
  }

  private double[] scaledMeans() {
    double[] means = new double[rows];
    for (int i = 0; i < rowOf.length; i++) {
      means[rowOf[i]] += scaledValue(i);
    }
    for (int p = 0; p < rows; p++) {
      means[p] /= readings[p];
    }
    return means;
  }

  private double withinSquares() {
    double within = 0;
    for (int i = 0; i < rowOf.length; i++) {
      double difference = scaledValue(i) - y[rowOf[i]];
      within += difference * difference;
    }
    return within;
  }

  /** What is taken off and divided by, so that values are of order one. */
  private record Scaling(double shift, double scale) {
    static Scaling of(Observations observations) {
      int n = observations.size();
      double sum = 0;
      for (int i = 0; i < n; i++) {
        sum += observations.value(i) / n;
      }
      double correction = 0;
      for (int i = 0; i < n; i++) {
        correction += (observations.value(i) - sum) / n;
      }
      double mean = sum + correction;
      double spread = 0;
      for (int i = 0; i < n; i++) {
        spread = Math.max(spread, Math.abs(observations.value(i) - mean));
      }
      double squares = 0;
      for (int i = 0; i < n; i++) {
        double relative = spread > 0 ? (observations.value(i) - mean) / spread : 0;
        squares += relative * relative;
      }
      return new Scaling(mean, spread > 0 ? spread * Math.sqrt(squares / n) : 1);
    }
  }

  /** Numbers the distinct combinations of levels and known influences; returns how many. */
  private static int group(Observations observations, int[] rowOf) {
    int n = rowOf.length;
    int rows = n > 0 ? 1 : 0;
    List<int[]> keys = new ArrayList<>();
    for (RandomFactor factor : observations.factors()) {
      keys.add(factor.levelOf());
    }
    for (FixedColumn column : observations.fixedColumns()) {
      keys.add(RandomFactor.numbered(Arrays.stream(column.values()).boxed().toList()));
    }
    for (int[] key : keys) {
      Map<Long, Integer> numbers = new HashMap<>();
      for (int i = 0; i < n; i++) {
        long combined = ((long) rowOf[i] << 32) | key[i];
        Integer known = numbers.putIfAbsent(combined, numbers.size());
        rowOf[i] = known == null ? numbers.size() - 1 : known;
      }
      rows = numbers.size();
    }
    return rows;
  }

  private static double[][] fixedColumns(Observations observations, int[] rowOf, int rows) {
    List<FixedColumn> columns = observations.fixedColumns();
    double[][] fixed = new double[1 + columns.size()][rows];
    Arrays.fill(fixed[0], 1);
    for (int c = 0; c < columns.size(); c++) {
      double mean = 0;
      for (int i = 0; i < rowOf.length; i++) {
        mean += columns.get(c).value(i) / rowOf.length;
      }
      for (int i = 0; i < rowOf.length; i++) {
        fixed[c + 1][rowOf[i]] = columns.get(c).value(i) - mean;
      }
    }
    return fixed;
  }

  private int findRowFactor() {
    for (int k = 0; k < level.length; k++) {
      if (distinctLevels(k) == rows) {
        return k;
      }
    }
    return -1;
  }

  /** Levels of factor k that occur. */
  int distinctLevels(int k) {
    BitSet seen = new BitSet();
    for (int own : level[k]) {
      seen.set(own);
    }
    return seen.cardinality();
  }

  double scaledValue(int observation) {
    return (observations.value(observation) - shift) / scale;
  }

  /** Row means of other values on the same structure, unscaled. */
  double[] rowMeans(double[] values) {
    double[] means = new double[rows];
    for (int i = 0; i < rowOf.length; i++) {
      means[rowOf[i]] += values[i] / readings[rowOf[i]];
    }
    return means;
  }

  /** Order of the equations; depends on the levels alone and is worked out once. */
  EliminationOrder order() {
    EliminationOrder known = structure.order;
    if (known == null) {
      known = new EliminationOrder(structure);
      structure.order = known;
    }
    return known;
  }

  /** Expected information where every fit starts; the same for all values on the structure. */
  double[][] startInformation(Supplier<double[][]> work) {
    double[][] known = structure.startInformation;
    if (known == null) {
      known = work.get();
      structure.startInformation = known;
    }
    return known;
  }

  /** The factors, coarsest first: as they stand, but those within another after it. */
  List<Integer> coarsestFirst() {
    List<Integer> waiting = new ArrayList<>();
    for (int k = 0; k < level.length; k++) {
      waiting.add(k);
    }
    List<Integer> order = new ArrayList<>();
    while (!waiting.isEmpty()) {
      Integer next =
          waiting.stream()
              .filter(k -> waiting.stream().noneMatch(l -> liesWithin(k, l)))
              .findFirst()
              .orElseThrow();
      waiting.remove(next);
      order.add(next);
    }
    return order;
  }

  /** Whether each level of factor k belongs to one level of factor l, which has fewer. */
  private boolean liesWithin(int k, int l) {
    int[] inside = new int[levelCount[k]];
    Arrays.fill(inside, -1);
    for (int p = 0; p < rows; p++) {
      int own = level[k][p];
      if (inside[own] >= 0 && inside[own] != level[l][p]) {
        return false;
      }
      inside[own] = level[l][p];
    }
    return distinctLevels(k) > distinctLevels(l);
  }

  /** Whether other values were grouped in the same way before. */
  boolean isOfKnownStructure() {
    return structure != this;
  }

  int factors() {
    return level.length;
  }

  /** Factors and the residual. */
  int components() {
    return level.length + 1;
  }

  boolean equalReadings() {
    return Arrays.stream(readings).allMatch(r -> r == readings[0]);
  }
}
