package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.linear.SmallMatrix;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;

/** Questions that a set of observations cannot answer, found before or after the first look. */
final class Estimability {
  /** An eigenvalue of the information below this share of an independent one counts as zero. */
  private static final double SMALLEST_EIGENVALUE = 1e-10;

  /** Fourth powers of what is larger, or of differences that are smaller, are no numbers. */
  private static final double LARGEST = 1e70;

  private static final double SMALLEST_RANGE = 1e-70;

  private Estimability() {}

  /** What the layout and the values alone show. */
  static Optional<NotEstimable> before(CellMeans data) {
    Observations observations = data.observations;
    int n = observations.size();
    if (n < 2) {
      return no("There is " + (n == 0 ? "no reading" : "one reading") + "; spread needs two.");
    }
    Optional<NotEstimable> values = values(data);
    if (values.isPresent()) {
      return values;
    }
    if (n <= data.fixed.length) {
      return no(
          n
              + " readings cannot carry a mean and "
              + (data.fixed.length - 1)
              + " known influences.");
    }
    return factors(data);
  }

  /** What the values alone show, on a structure that is in order. */
  static Optional<NotEstimable> values(CellMeans data) {
    Observations observations = data.observations;
    int n = observations.size();
    DoubleSummaryStatistics range = Arrays.stream(observations.values()).summaryStatistics();
    double smallest = range.getMin();
    double largest = range.getMax();
    if (!(Math.max(-smallest, largest) < LARGEST)) {
      return no(
          "Values as large as " + Math.max(-smallest, largest) + " leave no digits for a spread.");
    }
    if (largest - smallest < SMALLEST_RANGE) {
      return no("All " + n + " readings are the same value, so there is no spread to divide.");
    }
    boolean identicalRepeats =
        data.withinDegreesOfFreedom > 0 && data.withinSquares < 1e-26 * n && data.rowFactor >= 0;
    if (identicalRepeats) {
      return no(
          "Every repeated reading equals its first one, so the repeat spread is below the"
              + " resolution and cannot be told from zero.");
    }
    return Optional.empty();
  }

  private static Optional<NotEstimable> factors(CellMeans data) {
    List<RandomFactor> factors = data.observations.factors();
    int n = data.observations.size();
    for (int k = 0; k < factors.size(); k++) {
      Component name = factors.get(k).component();
      int levels = data.distinctLevels(k);
      if (levels == 1) {
        return no("All readings belong to one " + name + ", so its spread was not observed.");
      }
      if (levels == n) {
        return no(
            "Each reading has a "
                + name
                + " of its own, so the spread of "
                + name
                + " cannot be told from the residual; repeat some readings or leave it out.");
      }
      for (int l = 0; l < k; l++) {
        if (samePartition(data, k, l)) {
          return no(
              name
                  + " and "
                  + factors.get(l).component()
                  + " group the readings in the same way, so their spreads cannot be told apart.");
        }
      }
    }
    return Optional.empty();
  }

  private static boolean samePartition(CellMeans data, int k, int l) {
    int[] partner = new int[data.levelCount[k]];
    int[] back = new int[data.levelCount[l]];
    Arrays.fill(partner, -1);
    Arrays.fill(back, -1);
    for (int p = 0; p < data.rows; p++) {
      int a = data.level[k][p];
      int b = data.level[l][p];
      if ((partner[a] >= 0 && partner[a] != b) || (back[b] >= 0 && back[b] != a)) {
        return false;
      }
      partner[a] = b;
      back[b] = a;
    }
    return true;
  }

  /** Components whose covariance matrices depend on each other linearly, from the information. */
  static Optional<NotEstimable> information(List<Component> components, double[][] information) {
    int n = components.size();
    double[][] scaled = new double[n][n];
    for (int i = 0; i < n; i++) {
      if (!(information[i][i] > 0)) {
        return no("The readings hold no information on " + components.get(i) + ".");
      }
      for (int j = 0; j < n; j++) {
        scaled[i][j] = information[i][j] / Math.sqrt(information[i][i] * information[j][j]);
      }
    }
    EigenDecomposition eigen = new EigenDecomposition(new Array2DRowRealMatrix(scaled, false));
    double[] values = eigen.getRealEigenvalues();
    int smallest = 0;
    for (int i = 1; i < n; i++) {
      smallest = values[i] < values[smallest] ? i : smallest;
    }
    if (values[smallest] > SMALLEST_EIGENVALUE) {
      return Optional.empty();
    }
    List<String> mixed = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      if (Math.abs(eigen.getEigenvector(smallest).getEntry(i)) > 1e-3) {
        mixed.add(components.get(i).name());
      }
    }
    return no(
        "The readings cannot tell the spreads of "
            + String.join(", ", mixed)
            + " apart: too few units were measured in other combinations or more than once.");
  }

  /** What everything that is computed from a fit rests on: finite values and a sure information. */
  static Optional<NotEstimable> fitted(ComponentsFit fit) {
    boolean finite =
        Double.isFinite(fit.mean())
            && Double.isFinite(fit.meanStandardError())
            && Arrays.stream(fit.variances()).allMatch(Double::isFinite);
    return finite && SmallMatrix.inverse(fit.scaledInformation()).isPresent()
        ? Optional.empty()
        : no(
            "The spreads cannot be computed from these readings: some differ from the others by so"
                + " much that nothing else counts.");
  }

  static Optional<NotEstimable> no(String reason) {
    return Optional.of(new NotEstimable(reason));
  }
}
