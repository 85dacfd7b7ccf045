package lotproof.statistics.capability;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.summary.Summary;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;

/**
 * The one-way analysis of lots, made ready for intervals of the total variance.
 *
 * @param lots number of lots
 * @param values number of values
 * @param mean of all values
 * @param perLot n0, the effective number of values in a lot
 * @param withinMeanSquare MSW as observed
 * @param lotPart the mean square that stands for the lots
 * @param unitPart the mean square that stands for units within lots
 */
record LotSpread(
    int lots,
    int values,
    double mean,
    double perLot,
    double withinMeanSquare,
    double lotPart,
    double unitPart) {

  static LotSpread of(List<double[]> lots) {
    Checks.atLeast(lots.size(), 2, "number of lots");
    List<double[]> groups = new ArrayList<>();
    double n = 0;
    double sumOfSizesSquared = 0;
    double sum = 0;
    double within = 0;
    for (int i = 0; i < lots.size(); i++) {
      double[] lot = Checks.sample(lots.get(i), 2, "lot " + (i + 1));
      groups.add(lot);
      n += lot.length;
      sumOfSizesSquared += (double) lot.length * lot.length;
      sum += Summary.mean(lot) * lot.length;
      within += Summary.variance(lot) * (lot.length - 1);
    }
    double mean = sum / n;
    double between = 0;
    for (double[] lot : groups) {
      double d = Summary.mean(lot) - mean;
      between += lot.length * d * d;
    }
    double msb = between / (groups.size() - 1.0);
    double msw = within / (n - groups.size());
    if (!(msw > 0)) {
      throw new IllegalArgumentException("lots must hold values that differ within a lot");
    }
    double perLot = (n - sumOfSizesSquared / n) / (groups.size() - 1.0);
    double pooled = (between + within) / (n - 1);
    boolean lotsDiffer = msb > msw;
    return new LotSpread(
        groups.size(),
        (int) n,
        mean,
        perLot,
        msw,
        lotsDiffer ? msb : pooled,
        lotsDiffer ? msw : pooled);
  }

  double lotDf() {
    return lots - 1.0;
  }

  double unitDf() {
    return values - lots;
  }

  private double lotShare() {
    return lotPart / perLot;
  }

  private double unitShare() {
    return (1 - 1 / perLot) * unitPart;
  }

  double tau() {
    return Math.sqrt(lotShare() + unitShare());
  }

  double tauUpper(double confidence) {
    double lot = lotDf() / DistributionQuantiles.chiSquare(lotDf(), 1 - confidence) - 1;
    double unit = unitDf() / DistributionQuantiles.chiSquare(unitDf(), 1 - confidence) - 1;
    return Math.sqrt(tau() * tau() + Math.hypot(lotShare() * lot, unitShare() * unit));
  }

  double tauLower(double confidence) {
    double lot = 1 - lotDf() / DistributionQuantiles.chiSquareUpper(lotDf(), 1 - confidence);
    double unit = 1 - unitDf() / DistributionQuantiles.chiSquareUpper(unitDf(), 1 - confidence);
    double square = tau() * tau() - Math.hypot(lotShare() * lot, unitShare() * unit);
    return Math.sqrt(Math.max(0, square));
  }

  /**
   * The lower confidence bound of (limit - true mean)/tau from its estimate: the z for which the
   * estimate stands just at the edge of what the margins of mean and tau allow.
   */
  double quantileLowerBound(double estimate, double confidence) {
    double upper = tauUpper(confidence) / tau() - 1;
    double lower = 1 - tauLower(confidence) / tau();
    double meanError = Math.sqrt(lotPart / values);
    // Kept as the claim has it: the mean's own margin grows with the doubt about the spread.
    double grown = meanError * Math.min(1.2, Math.sqrt(1 + upper));
    double margin = DistributionQuantiles.student(lotDf(), confidence) * grown / tau();
    UnivariateFunction excess = z -> z + Math.hypot(margin, z * (z > 0 ? upper : lower)) - estimate;
    double reach = 1 + margin + Math.abs(estimate);
    double low = estimate - reach;
    while (excess.value(low) > 0) {
      reach *= 2;
      low -= reach;
      if (reach > 1e9) {
        return Double.NEGATIVE_INFINITY;
      }
    }
    return new BrentSolver(1e-14, 1e-12).solve(500, excess, low, estimate);
  }
}
