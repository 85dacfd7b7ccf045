package lotproof.statistics.components;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.ContinuousDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/** Quantiles of Commons Statistics, sharpened by Newton steps where its solver stops at 1e-9. */
final class Quantiles {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private Quantiles() {}

  static double normal(double probability) {
    return NORMAL.inverseCumulativeProbability(probability);
  }

  static double normalDensity(double z) {
    return NORMAL.density(z);
  }

  static double normalBelow(double z) {
    return NORMAL.cumulativeProbability(z);
  }

  static double chiSquared(double probability, double degreesOfFreedom) {
    return sharpened(ChiSquaredDistribution.of(degreesOfFreedom), probability);
  }

  static double student(double probability, double degreesOfFreedom) {
    return sharpened(TDistribution.of(degreesOfFreedom), probability);
  }

  static double sharpened(ContinuousDistribution distribution, double probability) {
    double x = distribution.inverseCumulativeProbability(probability);
    for (int i = 0; i < 3; i++) {
      double density = distribution.density(x);
      if (!(density > 0) || Double.isInfinite(density)) {
        return x;
      }
      double next = x - (distribution.cumulativeProbability(x) - probability) / density;
      if (!(next > distribution.getSupportLowerBound())) {
        return x;
      }
      x = next;
    }
    return x;
  }
}
