package lotproof.spread;

import java.util.OptionalDouble;

/**
 * How far the values of kits that share no unit look like draws from a normal distribution. It
 * warns; it never switches a method, because choosing the method by the data makes figures too
 * small (docs/method.md).
 *
 * @param kits how many such kits
 * @param andersonDarling A squared
 * @param pValue probability of a value as large under normality
 * @param shapiroWilk W
 * @param shapiroWilkPValue probability of a value as small under normality
 * @param skewness G1, 0 for a symmetric distribution
 * @param excessKurtosis G2, 0 for a normal distribution
 * @param warning a sentence for the reader; empty when nothing is odd
 */
public record Shape(
    int kits,
    double andersonDarling,
    double pValue,
    OptionalDouble shapiroWilk,
    OptionalDouble shapiroWilkPValue,
    double skewness,
    double excessKurtosis,
    String warning) {}
