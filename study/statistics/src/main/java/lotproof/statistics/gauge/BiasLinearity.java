package lotproof.statistics.gauge;

import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.calibration.LackOfFit;
import lotproof.statistics.calibration.PolynomialFit;

/**
 * Whether the bias of a bench changes with the load: the line of bias = reading - reference value
 * against the reference value, by least squares.
 *
 * <p>Assumes independent normal readings of equal scatter at all references. The slope tells
 * whether the bias grows with the load, the line at a load how large it is there; lack of fit,
 * where references were read more than once, whether a line describes it at all. Reference values
 * that share an error (one set of masses) shift or tilt the line unseen: their uncertainty is added
 * to the interval at a load, and no number of readings removes it.
 *
 * <p>Sources: AIAG, Measurement Systems Analysis, 4th ed., on linearity (from memory); the line is
 * that of {@link PolynomialFit}.
 */
public final class BiasLinearity {
  private final PolynomialFit line;

  private BiasLinearity(PolynomialFit line) {
    this.line = line;
  }

  /**
   * The line of biases.
   *
   * @param references reference value of each reading, at least two different ones
   * @param readings what was read, three or more
   */
  public static BiasLinearity of(double[] references, double[] readings) {
    double[] x = Checks.sample(references, 3, "references");
    double[] y = Checks.sample(readings, 3, "readings");
    if (x.length != y.length) {
      throw new IllegalArgumentException(
          "every reading needs its reference, had " + y.length + " and " + x.length);
    }
    double[] bias = new double[x.length];
    for (int i = 0; i < bias.length; i++) {
      bias[i] = y[i] - x[i];
    }
    return new BiasLinearity(PolynomialFit.of(x, bias, 1));
  }

  /** Bias of the line at reference value zero. */
  public double intercept() {
    return line.coefficients()[0];
  }

  /** Change of the bias for one unit of the reference value. */
  public double slope() {
    return line.coefficients()[1];
  }

  /** Standard error of the slope. */
  public double slopeStandardError() {
    return line.standardErrors()[1];
  }

  /** Interval of the slope, Student's t with n - 2 degrees of freedom. */
  public Interval slopeInterval(double confidence) {
    return around(slope(), slopeStandardError(), line.degreesOfFreedom(), confidence);
  }

  /** Whether the interval of the slope leaves out zero: the bias changes with the load. */
  public boolean changesWithLoad(double confidence) {
    return !slopeInterval(confidence).contains(0);
  }

  /** Bias of the line at a reference value. */
  public double biasAt(double reference) {
    return line.at(reference);
  }

  /**
   * Interval of the bias at a reference value, with the standard uncertainty of the reference in
   * quadrature (Welch and Satterthwaite).
   *
   * @param reference the reference value
   * @param referenceStandardUncertainty of it; 0 if taken as exact
   */
  public Interval intervalAt(
      double reference, double referenceStandardUncertainty, double confidence) {
    CombinedUncertainty uncertainty =
        CombinedUncertainty.of(
            new double[] {
              line.standardErrorAt(reference),
              Checks.notNegative(referenceStandardUncertainty, "referenceStandardUncertainty")
            },
            new double[] {line.degreesOfFreedom(), Double.POSITIVE_INFINITY});
    double half = uncertainty.coverageFactor(confidence) * uncertainty.standardUncertainty();
    double bias = biasAt(reference);
    return new Interval(bias - half, bias + half, confidence);
  }

  /** Whether a line describes the biases, where references were read more than once. */
  public Optional<LackOfFit> lackOfFit() {
    return line.lackOfFit();
  }

  private static Interval around(double estimate, double error, double df, double confidence) {
    double tail = (1 - Checks.fraction(confidence, "confidence")) / 2;
    double half = DistributionQuantiles.studentUpper(df, tail) * error;
    return new Interval(estimate - half, estimate + half, confidence);
  }
}
