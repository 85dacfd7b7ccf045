package lotproof.statistics.tolerance;

import java.util.OptionalInt;
import java.util.function.IntPredicate;
import lotproof.statistics.Checks;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * Tolerance limits that stand on ordered values alone and hold for every continuous population.
 *
 * <p>Definition: of n independent values, the r-th from the end leaves at most the share 1 -
 * content beyond it with confidence 1 - BinomialCdf(r - 1; n, 1 - content). For the largest value
 * (r = 1) this is 1 - content^n. For the smallest and the largest together it is 1 - n
 * content^(n-1) + (n-1) content^n.
 *
 * <p>Assumptions: independent units drawn at random from one population. Units of few lots are not:
 * the limit then covers those lots only. A symmetric limit ±A about zero is one-sided in |y|, so it
 * asks for the one-sided numbers (59 for 95 %/95 %, not 93). For populations with ties the
 * confidence is at least the stated one.
 *
 * <p>Sources: S. S. Wilks, Annals of Mathematical Statistics 12 (1941) 91-96 (from memory);
 * NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.4.
 */
public final class DistributionFree {
  private DistributionFree() {}

  /** The confidence 1 - content^n that at least the content lies within the largest of n values. */
  public static double confidenceOfExtreme(int n, double content) {
    Checks.atLeast(n, 1, "n");
    Checks.fraction(content, "content");
    return -Math.expm1(n * Math.log(content));
  }

  /**
   * The confidence that at least the content lies within the value of the given rank.
   *
   * @param n sample size
   * @param content in 0..1
   * @param rankFromEnd 1 for the largest value, 2 for the second largest; at most n
   */
  public static double confidenceOfRank(int n, double content, int rankFromEnd) {
    Checks.atLeast(n, 1, "n");
    Checks.fraction(content, "content");
    if (rankFromEnd < 1 || rankFromEnd > n) {
      throw new IllegalArgumentException(
          "rankFromEnd must lie in 1.." + n + ", was " + rankFromEnd);
    }
    if (rankFromEnd == 1) {
      return confidenceOfExtreme(n, content);
    }
    // The share below the r-th value from the end is Beta(n - r + 1, r).
    return BetaDistribution.of(n - rankFromEnd + 1.0, rankFromEnd).survivalProbability(content);
  }

  /** The confidence that the smallest and the largest of n values hold the content between them. */
  public static double confidenceOfBothExtremes(int n, double content) {
    Checks.atLeast(n, 2, "n");
    Checks.fraction(content, "content");
    // The share between the two extremes is Beta(n - 1, 2).
    return BetaDistribution.of(n - 1.0, 2).survivalProbability(content);
  }

  /** The content (1 - confidence)^(1/n) that the largest of n values supports. */
  public static double contentOfExtreme(int n, double confidence) {
    Checks.atLeast(n, 1, "n");
    Checks.fraction(confidence, "confidence");
    return Math.exp(Math.log1p(-confidence) / n);
  }

  /**
   * The smallest sample size for which the value of the given rank supports content and confidence.
   */
  public static int sampleSizeForExtreme(double content, double confidence, int rankFromEnd) {
    Checks.fraction(content, "content");
    Checks.fraction(confidence, "confidence");
    Checks.atLeast(rankFromEnd, 1, "rankFromEnd");
    return smallest(rankFromEnd, n -> confidenceOfRank(n, content, rankFromEnd) >= confidence);
  }

  /**
   * The rank from the end of the innermost value that still supports content and confidence.
   *
   * @return empty when not even the extreme value supports them
   */
  public static OptionalInt rankFromEnd(int n, double content, double confidence) {
    Checks.atLeast(n, 1, "n");
    Checks.fraction(content, "content");
    Checks.fraction(confidence, "confidence");
    int unsupported =
        smallest(1, rank -> rank > n || confidenceOfRank(n, content, rank) < confidence);
    return unsupported == 1 ? OptionalInt.empty() : OptionalInt.of(unsupported - 1);
  }

  /** The smallest whole number that passes a test which, once passed, stays passed. */
  private static int smallest(int from, IntPredicate passes) {
    int failed = from - 1;
    int passed = from;
    while (!passes.test(passed)) {
      if (passed > Integer.MAX_VALUE / 2) {
        throw new IllegalArgumentException(
            "content and confidence ask for more than " + Integer.MAX_VALUE / 2 + " values");
      }
      failed = passed;
      passed *= 2;
    }
    while (passed - failed > 1) {
      int middle = failed + (passed - failed) / 2;
      if (passes.test(middle)) {
        passed = middle;
      } else {
        failed = middle;
      }
    }
    return passed;
  }
}
