package lotproof.statistics.components;

/** X'V^-1 X of the known influences: its factor, inverse and determinant. */
final class SmallGram {
  private final double[] factor;
  private final int n;
  private final boolean positive;

  private SmallGram(double[] factor, int n, boolean positive) {
    this.factor = factor;
    this.n = n;
    this.positive = positive;
  }

  static SmallGram of(double[][] columns, double[][] whitened) {
    int n = columns.length;
    double[] gram = new double[n * n];
    for (int a = 0; a < n; a++) {
      for (int b = 0; b <= a; b++) {
        gram[a * n + b] = Dense.dot(columns[a], whitened[b]);
      }
    }
    return ofLower(gram, n);
  }

  /** Takes over a lower triangle. */
  static SmallGram ofLower(double[] gram, int n) {
    boolean positive = Dense.cholesky(gram, n);
    return new SmallGram(gram, n, positive);
  }

  boolean positive() {
    return positive;
  }

  double logDeterminant() {
    return Dense.logDeterminant(factor, n);
  }

  double[] factor() {
    return factor;
  }

  double[][] inverse() {
    double[] flat = Dense.inverse(factor, n);
    double[][] result = new double[n][n];
    for (int i = 0; i < n; i++) {
      System.arraycopy(flat, i * n, result[i], 0, n);
    }
    return result;
  }
}
