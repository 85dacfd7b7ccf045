package lotproof.statistics.components;

/**
 * Rows of L^-1 X' V^-1 Z for the levels of all factors with a block, X'V^-1 X = L L': their
 * products are the part of the fixed columns in Z'PZ.
 *
 * @param columns fixed columns, 0 where V^-1 takes the place of P
 * @param eliminated one row for each eliminated level
 * @param rest one row for each level of the rest
 */
@SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
record FixedRows(int columns, double[] eliminated, double[] rest) {

  /** For P. */
  static FixedRows all(EquationsLikelihood equations) {
    return of(equations, equations.data.fixed.length);
  }

  /** For P under REML, V^-1 under ML. */
  static FixedRows underCriterion(EquationsLikelihood equations) {
    return of(equations, equations.restricted ? equations.data.fixed.length : 0);
  }

  private static FixedRows of(EquationsLikelihood equations, int columns) {
    EffectLayout layout = equations.layout;
    double[] eliminated = new double[layout.eliminatedLevels * columns];
    double[] rest = new double[layout.restLevels * columns];
    if (columns == 0 || layout.eliminated < 0) {
      return new FixedRows(columns, eliminated, rest);
    }
    double[][] whitened = equations.whitenedFixed();
    for (int c = 0; c < columns; c++) {
      double[] sums = equations.levelSums(layout.eliminated, whitened[c]);
      for (int i = 0; i < sums.length; i++) {
        eliminated[i * columns + c] = sums[i];
      }
      for (int[] column : layout.column) {
        for (int p = 0; p < column.length; p++) {
          rest[column[p] * columns + c] += whitened[c][p];
        }
      }
    }
    solveRows(equations.gramFactor(), eliminated, columns);
    solveRows(equations.gramFactor(), rest, columns);
    return new FixedRows(columns, eliminated, rest);
  }

  private static void solveRows(double[] factor, double[] rows, int columns) {
    double[] row = new double[columns];
    for (int start = 0; start < rows.length; start += columns) {
      System.arraycopy(rows, start, row, 0, columns);
      Dense.solveLower(factor, columns, row);
      System.arraycopy(row, 0, rows, start, columns);
    }
  }

  /** Squared length of a row. */
  static double square(double[] rows, int at, int columns) {
    return Dense.dot(rows, at * columns, rows, at * columns, columns);
  }
}
