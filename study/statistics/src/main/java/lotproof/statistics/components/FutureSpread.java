package lotproof.statistics.components;

import lotproof.statistics.DistributionQuantiles;

/**
 * What the limits of {@link FutureUnitLimits} share: sums over the pseudo mean squares of all
 * parts, in units of the observations.
 */
final class FutureSpread {
  private static final double MOST_MEAN_INFLATION = 1.2;

  private double variance;
  private double margin;
  private double remlVariance;
  private double meanVariance;
  private double meanMargin;
  private double meanSpread;
  private double informationSpread;

  /** A part with what its fit alone decides. */
  static final class Source {
    private final PseudoMeanSquares squares;
    private final double[] member;
    private final double[] gradient;
    private final double[] ofUnit;
    private final double[] ofMean;
    private final double informationSpread;

    Source(FutureUnitLimits.Part part, double confidence) {
      ComponentsFit fit = part.fit();
      squares = new PseudoMeanSquares(fit, confidence);
      member = part.weights().ofUnit(fit.componentNames());
      gradient = fit.meanVarianceGradient();
      Dense.addScaled(
          gradient, 0, 1, part.weights().ofMean(fit.componentNames()), 0, gradient.length);
      ofUnit = squares.coefficients(member);
      ofMean = squares.coefficients(gradient);
      double unit = fit.data().scale * fit.data().scale;
      informationSpread =
          unit
              * unit
              * SmallMatrix.solve(fit.scaledInformation(), member)
                  .map(solved -> Dense.dot(member, solved))
                  .orElseThrow(() -> new IllegalStateException("information is singular"));
    }

    /** Weights of the components in a future unit. */
    double[] member() {
      return member;
    }

    /** Derivatives of the variance of the mean by the components. */
    double[] gradient() {
      return gradient;
    }

    /**
     * Adds the part to a sum.
     *
     * @param unconstrained variances one scoring step beyond the estimates
     * @param estimates variances at or above zero
     */
    void addTo(FutureSpread sum, double[] unconstrained, double[] estimates) {
      double[] phi = squares.phi(unconstrained, estimates);
      double mean = 0;
      double spread = 0;
      for (int i = 0; i < phi.length; i++) {
        double share = ofUnit[i] * phi[i];
        double meanShare = ofMean[i] * phi[i];
        sum.variance += share;
        mean += meanShare;
        sum.margin += square(share * squares.margin(i, ofUnit[i] > 0));
        sum.meanMargin += square(meanShare * squares.margin(i, ofMean[i] > 0));
        spread += meanShare * meanShare / squares.nu[i];
      }
      // unconstrained components below zero can leave nothing for the mean, which no study shows
      double fallback = Dense.dot(gradient, estimates);
      sum.meanVariance += mean > 0 ? mean : fallback;
      sum.meanSpread += mean > 0 ? spread : fallback * fallback;
      sum.remlVariance += Dense.dot(member, estimates);
      sum.informationSpread += informationSpread;
    }
  }

  /** Standard deviation of a future unit. */
  double tau() {
    return Math.sqrt(Math.max(0, variance));
  }

  /** Its upper confidence limit. */
  double tauUpper() {
    return Math.sqrt(Math.max(Math.max(0, variance) + Math.sqrt(margin), remlVariance));
  }

  /** Standard error of the mean. */
  double w() {
    return Math.sqrt(meanVariance);
  }

  double meanDegreesOfFreedom() {
    return meanSpread > 0 ? meanVariance * meanVariance / meanSpread : 1;
  }

  /** Satterthwaite's, of the variance of a future unit. */
  double effectiveDegreesOfFreedom() {
    return informationSpread > 0 ? 2 * remlVariance * remlVariance / informationSpread : 0;
  }

  /** Standard error of the mean, no more certain than the spread is. */
  double widenedW() {
    double upper = Math.sqrt(meanVariance + Math.sqrt(meanMargin));
    return w() > 0 ? Math.min(w() * ratio(), upper) : 0;
  }

  /** tauUpper / tau. */
  double ratio() {
    return tau() > 0 ? tauUpper() / tau() : Double.POSITIVE_INFINITY;
  }

  double meanMargin(double confidence) {
    double t = DistributionQuantiles.student(Math.max(1, meanDegreesOfFreedom()), confidence);
    return t * w() * Math.min(MOST_MEAN_INFLATION, Math.sqrt(ratio()));
  }

  /** A of the limits -A and +A. */
  double symmetricHalfWidth(double mean, double content, double confidence) {
    double size = Math.abs(mean);
    double base = FoldedNormal.halfWidth(size, tau(), content);
    double byMean = FoldedNormal.halfWidth(size + meanMargin(confidence), tau(), content) - base;
    return base + Math.hypot(byMean, FoldedNormal.halfWidth(size, tauUpper(), content) - base);
  }

  private static double square(double value) {
    return value * value;
  }
}
