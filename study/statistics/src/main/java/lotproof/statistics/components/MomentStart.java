package lotproof.statistics.components;

/**
 * Rough variances to start from: the quadratic forms |Z_k' (y - mean)|^2 are equated to what they
 * are expected to be (MINQUE with equal weights on the residual alone). Estimates below a small
 * share of the total are raised to it, so that every component can move.
 */
final class MomentStart {
  private static final double SMALLEST_SHARE = 0.02;

  private MomentStart() {}

  static double[] of(CellMeans data) {
    int count = data.components();
    double[] centred = centre(data);
    double[] forms = new double[count];
    double[][] expected = new double[count][count];
    for (int k = 0; k < count; k++) {
      forms[k] = form(data, k, centred);
      for (int l = 0; l <= k; l++) {
        expected[k][l] = expectedForm(data, k, l);
        expected[l][k] = expected[k][l];
      }
    }
    int e = count - 1;
    if (data.withinDegreesOfFreedom > 0) {
      forms[e] += data.withinSquares;
      expected[e][e] += data.withinDegreesOfFreedom;
    }
    double[] start = SmallMatrix.solve(expected, forms).orElseGet(() -> new double[count]);
    double total = 0;
    for (double variance : start) {
      total += Math.max(0, variance);
    }
    double floor = SMALLEST_SHARE * (total > 0 && Double.isFinite(total) ? total : 1);
    for (int k = 0; k < count; k++) {
      start[k] = start[k] > floor ? start[k] : floor;
    }
    return start;
  }

  private static double[] centre(CellMeans data) {
    double mean = 0;
    for (double value : data.y) {
      mean += value / data.rows;
    }
    double[] result = data.y.clone();
    for (int p = 0; p < result.length; p++) {
      result[p] -= mean;
    }
    return result;
  }

  /** y' M V_k M y with M = I - 11'/N. */
  private static double form(CellMeans data, int k, double[] centred) {
    if (k == data.factors()) {
      double sum = 0;
      for (int p = 0; p < data.rows; p++) {
        sum += centred[p] * centred[p] / data.readings[p];
      }
      return sum;
    }
    double[] sums = new double[data.levelCount[k]];
    for (int p = 0; p < data.rows; p++) {
      sums[data.level[k][p]] += centred[p];
    }
    return Dense.dot(sums, sums);
  }

  /** tr(M V_k M V_l) = tr(V_k V_l) - 2/N 1'V_k V_l 1 + (1'V_k 1)(1'V_l 1)/N^2. */
  private static double expectedForm(CellMeans data, int k, int l) {
    int n = data.rows;
    double[] rowSumsK = rowSums(data, k);
    double[] rowSumsL = rowSums(data, l);
    double totalK = 0;
    double totalL = 0;
    for (int p = 0; p < n; p++) {
      totalK += rowSumsK[p];
      totalL += rowSumsL[p];
    }
    return overlap(data, k, l)
        - 2.0 / n * Dense.dot(rowSumsK, rowSumsL)
        + totalK * totalL / ((double) n * n);
  }

  private static double[] rowSums(CellMeans data, int k) {
    double[] result = new double[data.rows];
    if (k == data.factors()) {
      for (int p = 0; p < data.rows; p++) {
        result[p] = 1 / data.readings[p];
      }
      return result;
    }
    double[] sizes = new double[data.levelCount[k]];
    for (int level : data.level[k]) {
      sizes[level]++;
    }
    for (int p = 0; p < data.rows; p++) {
      result[p] = sizes[data.level[k][p]];
    }
    return result;
  }

  /** tr(V_k V_l). */
  private static double overlap(CellMeans data, int k, int l) {
    int e = data.factors();
    double sum = 0;
    if (k == e || l == e) {
      for (double r : data.readings) {
        sum += k == l ? 1 / (r * r) : 1 / r;
      }
      return sum;
    }
    long[] cells = new long[data.rows];
    for (int p = 0; p < data.rows; p++) {
      cells[p] = (long) data.level[k][p] * data.levelCount[l] + data.level[l][p];
    }
    java.util.Arrays.sort(cells);
    int from = 0;
    for (int p = 1; p <= cells.length; p++) {
      if (p == cells.length || cells[p] != cells[from]) {
        double size = p - from;
        sum += size * size;
        from = p;
      }
    }
    return sum;
  }
}
