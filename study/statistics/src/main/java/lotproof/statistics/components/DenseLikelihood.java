package lotproof.statistics.components;

/**
 * The likelihood through the full covariance matrix of the rows: cubic in the rows, but sound where
 * the residual is zero and the remaining components still make V positive definite.
 */
final class DenseLikelihood extends Likelihood {
  private final int n;
  private double[] theta = new double[0];
  private double[] inverse = new double[0];
  private double[] projection = new double[0];
  private double[][] whitened = new double[0][];
  private double[][] covariance = new double[0][];

  DenseLikelihood(ReducedRows data, Criterion criterion) {
    super(data, criterion);
    this.n = data.rows;
  }

  @Override
  double rowLogLikelihood(double[] point) {
    theta = point.clone();
    double[] v = new double[n * n];
    int residual = data.factors();
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = i == j ? theta[residual] / data.readings[i] : 0;
        for (int k = 0; k < residual; k++) {
          sum += data.level[k][i] == data.level[k][j] ? theta[k] : 0;
        }
        v[i * n + j] = sum;
      }
    }
    if (!Dense.cholesky(v, n)) {
      return Double.NEGATIVE_INFINITY;
    }
    double logDeterminant = Dense.logDeterminant(v, n);
    inverse = Dense.inverse(v, n);
    int columns = data.fixed.length;
    whitened = new double[columns][];
    for (int c = 0; c < columns; c++) {
      whitened[c] = multiply(inverse, data.fixed[c]);
    }
    SmallGram gram = SmallGram.of(data.fixed, whitened);
    if (!gram.positive()) {
      return Double.NEGATIVE_INFINITY;
    }
    covariance = gram.inverse();
    projection = inverse.clone();
    for (int a = 0; a < columns; a++) {
      double[] spread = new double[n];
      for (int b = 0; b < columns; b++) {
        Dense.addScaled(spread, 0, covariance[a][b], whitened[b], 0, n);
      }
      for (int i = 0; i < n; i++) {
        Dense.addScaled(projection, i * n, -whitened[a][i], spread, 0, n);
      }
    }
    double quadratic = Dense.dot(data.y, multiply(projection, data.y));
    double fixedPart = restricted ? gram.logDeterminant() : 0;
    return -0.5 * (logDeterminant + fixedPart + quadratic);
  }

  @Override
  double[] point() {
    return theta;
  }

  @Override
  double[] project(double[] v) {
    return multiply(projection, v);
  }

  @Override
  double[][] projectedProducts(double[][] vectors) {
    double[][] result = new double[vectors.length][vectors.length];
    for (int k = 0; k < vectors.length; k++) {
      double[] projected = project(vectors[k]);
      for (int l = 0; l <= k; l++) {
        result[k][l] = Dense.dot(projected, vectors[l]);
      }
    }
    return result;
  }

  private double[] multiply(double[] matrix, double[] v) {
    double[] result = new double[n];
    for (int i = 0; i < n; i++) {
      result[i] = Dense.dot(matrix, i * n, v, 0, n);
    }
    return result;
  }

  @Override
  double[] traces() {
    double[] q = restricted ? projection : inverse;
    double[] result = new double[data.components()];
    double[] column = new double[n];
    for (int k = 0; k < result.length; k++) {
      for (int i = 0; i < n; i++) {
        System.arraycopy(q, i * n, column, 0, n);
        result[k] += timesAt(k, column, i);
      }
    }
    return result;
  }

  /** Entry i of V_k v. */
  private double timesAt(int k, double[] v, int i) {
    if (k == data.factors()) {
      return v[i] / data.readings[i];
    }
    int[] level = data.level[k];
    double sum = 0;
    for (int p = 0; p < v.length; p++) {
      sum += level[p] == level[i] ? v[p] : 0;
    }
    return sum;
  }

  @Override
  double[][] productTraces() {
    double[] q = restricted ? projection : inverse;
    int count = data.components();
    double[][] products = new double[count][];
    double[][] second = new double[count][count];
    double[] column = new double[n];
    for (int k = 0; k < count; k++) {
      double[] product = new double[n * n];
      for (int i = 0; i < n; i++) {
        System.arraycopy(q, i * n, column, 0, n);
        System.arraycopy(times(k, column), 0, product, i * n, n);
      }
      products[k] = product;
    }
    for (int k = 0; k < count; k++) {
      for (int l = 0; l <= k; l++) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
          for (int j = 0; j < n; j++) {
            sum += products[k][i * n + j] * products[l][j * n + i];
          }
        }
        second[k][l] = sum;
        second[l][k] = sum;
      }
    }
    return second;
  }

  @Override
  double[][] fixedCovariance() {
    return covariance;
  }

  @Override
  double[][] whitenedFixed() {
    return whitened;
  }

  @Override
  double[] projectionDiagonal() {
    double[] result = new double[n];
    for (int i = 0; i < n; i++) {
      result[i] = projection[i * n + i];
    }
    return result;
  }

  @Override
  double[] levelDiagonal(int k) {
    int[] level = data.level[k];
    double[] result = new double[data.levelCount[k]];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        if (level[i] == level[j]) {
          result[level[i]] += projection[i * n + j];
        }
      }
    }
    return result;
  }
}
