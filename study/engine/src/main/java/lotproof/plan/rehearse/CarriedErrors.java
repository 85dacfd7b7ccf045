package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import lotproof.model.Role;
import lotproof.study.Assumed;
import lotproof.study.CalibrationLevel;

/**
 * Carries characteristics over to the errors of reading at a calibration level.
 *
 * <p>Before taring and calibration an error e_j of the reading at mass x_j is a sum of shapes: the
 * span x; for cells a bow 4 x (C - x) / C² in all readings and once more in falling ones alone,
 * which have their largest value at half the capacity C; and the repeat of each reading alone.
 * Taring and calibrating subtract, to the first order, the line that joins e at the tared zero and
 * at the rising calibration masses, the last piece extended ({@link
 * lotproof.reduce.ErrorOfReading}). The bow is ours: a data sheet says how large a non-linearity is
 * and not of which shape.
 */
final class CarriedErrors {
  private static final double GRAMS_PER_KILOGRAM = 1000;

  /** Grams of error that are none; a mass of the calibration shows no error. */
  private static final double NOTHING = 1e-9;

  private final double[] loads;
  private final int peak;
  private final double capacity;
  private final int[] nodes;

  CarriedErrors(CalibrationLevel level, List<Double> loadsKilograms, double capacityKilograms) {
    this.loads = loadsKilograms.stream().mapToDouble(load -> load).toArray();
    this.peak = IntStream.range(0, loads.length).reduce(0, (a, b) -> loads[b] > loads[a] ? b : a);
    this.capacity = capacityKilograms;
    List<Integer> rising = new ArrayList<>(List.of(0));
    level.pointsKilograms().forEach(mass -> rising.add(loadsKilograms.indexOf(mass)));
    this.nodes = rising.stream().mapToInt(node -> node).toArray();
  }

  /** Curves over the points of a run at which there can be an error. */
  AssumedCurves of(Assumed.DataSheet c) {
    double percentOfReading = GRAMS_PER_KILOGRAM / 100;
    double percentOfCapacity = percentOfReading * capacity;
    double[] span = new double[loads.length];
    double[] bow = new double[loads.length];
    double[] lag = new double[loads.length];
    for (int j = 0; j < loads.length; j++) {
      span[j] = percentOfReading * loads[j];
      bow[j] = percentOfCapacity * 4 * loads[j] * (capacity - loads[j]) / (capacity * capacity);
      lag[j] = j > peak ? bow[j] : 0;
    }
    double[][] cells = new double[loads.length][loads.length];
    add(c.cellPercent(), span, cells);
    add(c.combinedPercent(), bow, cells);
    add(c.combinedPercent(), lag, cells);
    double[][] boards = new double[loads.length][loads.length];
    add(c.boardPercent(), span, boards);
    double[][] repeats = new double[loads.length][loads.length];
    for (int j = 0; j < loads.length; j++) {
      double[] one = new double[loads.length];
      one[j] = c.repeatGrams();
      add(1, one, repeats);
    }
    int[] points =
        IntStream.range(0, loads.length)
            .filter(j -> cells[j][j] + boards[j][j] + repeats[j][j] > NOTHING)
            .toArray();
    Map<Role, double[][]> covariances = new EnumMap<>(Role.class);
    covariances.put(Role.CELL_LOT, scaled(c.cellLotShare(), cells, points));
    covariances.put(Role.CELL, scaled(1 - c.cellLotShare(), cells, points));
    covariances.put(Role.BOARD_LOT, scaled(c.boardLotShare(), boards, points));
    covariances.put(Role.BOARD, scaled(1 - c.boardLotShare(), boards, points));
    covariances.put(Role.RESIDUAL, scaled(1, repeats, points));
    return new AssumedCurves(new double[points.length], covariances);
  }

  /** Adds the covariance of a shape that differs by a standard deviation. */
  private void add(double deviation, double[] shape, double[][] sum) {
    double[] left = new double[shape.length];
    for (int j = 0; j < left.length; j++) {
      left[j] = deviation * (shape[j] - line(shape, loads[j]));
    }
    for (int i = 0; i < left.length; i++) {
      for (int j = 0; j < left.length; j++) {
        sum[i][j] += left[i] * left[j];
      }
    }
  }

  /** What taring and calibration take away at a load. */
  private double line(double[] errors, double load) {
    if (nodes.length == 1) {
      return errors[0];
    }
    int k = 1;
    while (k < nodes.length - 1 && load > loads[nodes[k]]) {
      k++;
    }
    int from = nodes[k - 1];
    int to = nodes[k];
    double part = (load - loads[from]) / (loads[to] - loads[from]);
    return errors[from] + part * (errors[to] - errors[from]);
  }

  private static double[][] scaled(double share, double[][] matrix, int[] points) {
    double[][] picked = new double[points.length][points.length];
    for (int i = 0; i < points.length; i++) {
      for (int j = 0; j < points.length; j++) {
        picked[i][j] = share * matrix[points[i]][points[j]];
      }
    }
    return picked;
  }
}
