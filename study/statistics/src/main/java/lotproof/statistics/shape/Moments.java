package lotproof.statistics.shape;

import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Skewness and kurtosis in the conventions in use, so that a figure can be compared with whatever
 * it is held against.
 *
 * <p>With central moments m_k = sum (y - mean)^k / n: g1 = m3 / m2^(3/2); b2 = m4 / m2²; G1 = g1
 * sqrt(n(n-1)) / (n-2); G2 = (n-1)/((n-2)(n-3)) ((n+1)(b2 - 3) + 6). G1 and G2 are unbiased for
 * normal populations, where both are zero on average.
 *
 * <p>Source: D. N. Joanes and C. A. Gill, The Statistician 47 (1998) 183-189 (from memory). One
 * public handbook prints G1 with n - 1 in the denominator; n - 2 is right.
 *
 * @param adjustedSkewness G1
 * @param excessKurtosis G2, which is 0 for a normal population
 */
public record Moments(double adjustedSkewness, double excessKurtosis) {

  /** The moments of four or more values that are not all equal. */
  public static Moments of(double[] values) {
    double[] y = Checks.sample(values, 4, "values");
    double mean = Summary.mean(y);
    double m2 = 0;
    double m3 = 0;
    double m4 = 0;
    for (double value : y) {
      double d = value - mean;
      m2 += d * d;
      m3 += d * d * d;
      m4 += d * d * d * d;
    }
    double n = y.length;
    m2 /= n;
    m3 /= n;
    m4 /= n;
    if (!(m2 > 0)) {
      throw new IllegalArgumentException("values must not all be equal");
    }
    double g1 = m3 / (m2 * Math.sqrt(m2));
    double b2 = m4 / (m2 * m2);
    double adjusted = g1 * Math.sqrt(n * (n - 1)) / (n - 2);
    double excess = (n - 1) / ((n - 2) * (n - 3)) * ((n + 1) * (b2 - 3) + 6);
    return new Moments(adjusted, excess);
  }
}
