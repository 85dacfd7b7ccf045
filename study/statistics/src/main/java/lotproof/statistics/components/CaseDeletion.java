package lotproof.statistics.components;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * What leaving out observations, such as those of one unit, would do to the estimates: one scoring
 * step from the estimate, without a fit. Good for putting units in order of their influence; a
 * claim about one unit is worth a fit without it.
 *
 * <p>With U the rows that go, leaving them out is the same as giving each a parameter of its own: d
 * = (P_UU)^-1 (Py)_U, Py becomes Py - P_U d, P becomes P - P_U (P_UU)^-1 P_U', and the mean loses
 * h_U'd, h its weights; all exact at the variances of the estimate. The slopes of the likelihood
 * there, times the inverse of the information with all rows, are the step. Components at zero stay
 * there.
 *
 * <p>Source: deletion as in Cook and Weisberg (1982), Residuals and Influence in Regression, and
 * Christensen, Pearson and Johnson (1992), Technometrics 34 (from memory).
 */
public final class CaseDeletion {
  private final ComponentsFit fit;
  private final CellMeans data;
  private final Likelihood likelihood;
  private final double[] py;
  private final double[] meanWeights;

  private final double[] projectionDiagonal;

  /** y'P V_k P y. */
  private final double[] quadratics;

  /** Squared differences of the observations of each row from their mean. */
  private final double[] squaresOfRow;

  public CaseDeletion(ComponentsFit fit) {
    this.fit = fit;
    this.data = fit.data();
    this.likelihood = fit.surface().last();
    this.py = likelihood.projectedValues();
    this.meanWeights = likelihood.meanWeights();
    this.projectionDiagonal = likelihood.rowDiagonal();
    this.quadratics = new double[data.components()];
    for (int k = 0; k < quadratics.length; k++) {
      quadratics[k] = Dense.dot(py, likelihood.applyCovariance(k, py));
    }
    this.squaresOfRow = new double[data.rows];
    for (int i = 0; i < data.rowOf.length; i++) {
      double difference = data.scaledValue(i) - data.y[data.rowOf[i]];
      squaresOfRow[data.rowOf[i]] += difference * difference;
    }
  }

  /**
   * By how much the estimates would change.
   *
   * @param variances change of each variance in the order of the components; never below minus the
   *     variance
   * @param mean change of the mean with the variances as they are
   */
  @SuppressWarnings("ArrayRecordComponent") // a plain bundle of numbers
  public record Change(double[] variances, double mean) {}

  /**
   * How far some observations stand out: the sum over their combinations of levels of (Py)^2 /
   * diag(P), about 1 for each that fits. Takes next to no time, and says which are worth {@link
   * #without}.
   *
   * @param observations distinct indices of observations
   */
  public double outlyingness(List<Integer> observations) {
    double sum = 0;
    for (int p : goneRows(observations)) {
      sum += py[p] * py[p] / projectionDiagonal[p];
    }
    return sum;
  }

  /**
   * Change without some of the observations.
   *
   * @param without distinct indices of observations; a combination of levels that keeps some of its
   *     observations counts as kept
   * @return nothing changes where the rest cannot do without the observations that go
   */
  public Change without(List<Integer> without) {
    int[] gone = goneRows(without);
    double[][] columns = new double[gone.length][data.rows];
    double[][] block = new double[gone.length][gone.length];
    for (int a = 0; a < gone.length; a++) {
      columns[a][gone[a]] = 1;
      columns[a] = likelihood.project(columns[a]);
      for (int b = 0; b < gone.length; b++) {
        block[a][b] = columns[a][gone[b]];
      }
    }
    Optional<double[][]> inverse = SmallMatrix.inverse(block);
    if (gone.length == 0 || inverse.isEmpty()) {
      return new Change(new double[data.components()], 0);
    }
    double[] parameters =
        SmallMatrix.times(inverse.get(), Arrays.stream(gone).mapToDouble(p -> py[p]).toArray());
    double mean = 0;
    for (int a = 0; a < gone.length; a++) {
      mean -= meanWeights[gone[a]] * parameters[a];
    }
    double[] score = scoreWithout(columns, inverse.get(), parameters);
    addWithin(score, gone);
    return new Change(step(score), data.scale * mean);
  }

  /** Rows of which no observation is kept. */
  private int[] goneRows(List<Integer> without) {
    Map<Integer, Integer> gone = new TreeMap<>();
    for (int i : without) {
      if (!(i >= 0 && i < data.rowOf.length)) {
        throw new IllegalArgumentException(
            "observations must lie in 0.." + (data.rowOf.length - 1) + ", had " + i);
      }
      gone.merge(data.rowOf[i], 1, Integer::sum);
    }
    return gone.entrySet().stream()
        .filter(row -> row.getValue() == data.readings[row.getKey()])
        .mapToInt(Map.Entry::getKey)
        .toArray();
  }

  /** Slopes of the row part with P and Py of the rows that stay. */
  private double[] scoreWithout(double[][] columns, double[][] inverse, double[] parameters) {
    double[] left = py.clone();
    for (int a = 0; a < columns.length; a++) {
      Dense.addScaled(left, 0, -parameters[a], columns[a], 0, left.length);
    }
    double[] score = fit.scaledScore();
    for (int k = 0; k < score.length; k++) {
      double gained = Dense.dot(left, likelihood.applyCovariance(k, left)) - quadratics[k];
      for (int a = 0; a < columns.length; a++) {
        double[] moved = likelihood.applyCovariance(k, columns[a]);
        for (int b = 0; b < columns.length; b++) {
          gained += inverse[a][b] * Dense.dot(columns[b], moved);
        }
      }
      score[k] += gained / 2;
    }
    return score;
  }

  /** Takes out what differences between readings of one combination of levels said. */
  private void addWithin(double[] score, int[] gone) {
    int e = score.length - 1;
    double theta = fit.scaledVariances()[e];
    double degreesOfFreedom = 0;
    double squares = 0;
    for (int p : gone) {
      degreesOfFreedom += data.readings[p] - 1;
      squares += squaresOfRow[p];
    }
    if (degreesOfFreedom > 0 && theta > 0) {
      score[e] += (degreesOfFreedom / theta - squares / (theta * theta)) / 2;
    }
  }

  /** Inverse information times the slopes, over the components above zero. */
  private double[] step(double[] score) {
    double[] theta = fit.scaledVariances();
    double[][] information = fit.scaledInformation();
    int[] free = IntStream.range(0, theta.length).filter(k -> theta[k] > 0).toArray();
    double[] step =
        SmallMatrix.solve(information, score, free)
            .orElseThrow(() -> new IllegalStateException("information is singular"));
    for (int k : free) {
      step[k] = data.scale * data.scale * Math.max(step[k], -theta[k]);
    }
    return step;
  }
}
