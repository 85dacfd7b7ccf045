package lotproof.statistics.outliers;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Rosner's generalized test of extreme studentised deviates: up to a number of extreme values,
 * fixed beforehand, in an otherwise normal sample.
 *
 * <p>Step i finds the value farthest from the mean of what is left, R(i) = |y - mean| / s, and sets
 * it aside. lambda(i) = t (n - i) / sqrt((n - i - 1 + t²)(n - i + 1)), t = t(alpha / (2(n - i +
 * 1)); n - i - 1). The number of extreme values is the <em>largest</em> i with R(i) &gt; lambda(i):
 * earlier steps may fail because extreme values hide each other.
 *
 * <p>The test keeps its level for 25 values and more (15 is passable). It points at values and
 * removes none from the data.
 *
 * <p>Sources: B. Rosner, Technometrics 25 (1983) 165-172 (from memory); NIST/SEMATECH e-Handbook,
 * 1.3.5.17.3.
 *
 * @param steps the steps in order; fewer than asked for when what is left has no spread
 * @param extremeCount number of values found extreme, from the first step on
 */
public record GeneralizedEsd(List<Step> steps, int extremeCount) {

  /**
   * One step of the test.
   *
   * @param index position of the value in the data, from 0
   * @param statistic R
   * @param criticalValue lambda
   */
  public record Step(int index, double statistic, double criticalValue) {}

  public GeneralizedEsd {
    steps = List.copyOf(steps);
  }

  /** The steps whose values were found extreme. */
  public List<Step> extremes() {
    return steps.subList(0, extremeCount);
  }

  /**
   * The test.
   *
   * @param values the sample, in any order
   * @param mostExtremes the largest number of extreme values looked for; at most n - 2
   * @param significance alpha
   */
  public static GeneralizedEsd test(double[] values, int mostExtremes, double significance) {
    double[] left = Checks.sample(values, 3, "values");
    Checks.fraction(significance, "significance");
    int n = left.length;
    if (mostExtremes < 1 || mostExtremes > n - 2) {
      throw new IllegalArgumentException(
          "mostExtremes must lie in 1.." + (n - 2) + ", was " + mostExtremes);
    }
    List<Integer> position = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      position.add(i);
    }
    List<Step> steps = new ArrayList<>();
    int extremes = 0;
    for (int i = 1; i <= mostExtremes; i++) {
      double sd = Summary.sd(left);
      if (!(sd > 0)) {
        break;
      }
      double mean = Summary.mean(left);
      int at = Grubbs.farthest(left, mean);
      double statistic = Math.abs(left[at] - mean) / sd;
      double critical = Grubbs.critical(left.length, significance / (2.0 * left.length));
      steps.add(new Step(position.get(at), statistic, critical));
      if (statistic > critical) {
        extremes = i;
      }
      left = without(left, at);
      position.remove(at);
    }
    return new GeneralizedEsd(steps, extremes);
  }

  private static double[] without(double[] values, int index) {
    double[] rest = new double[values.length - 1];
    System.arraycopy(values, 0, rest, 0, index);
    System.arraycopy(values, index + 1, rest, index, rest.length - index);
    return rest;
  }
}
