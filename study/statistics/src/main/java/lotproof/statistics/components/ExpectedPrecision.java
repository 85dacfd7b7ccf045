package lotproof.statistics.components;

import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * How precisely a layout of observations would estimate assumed variance components, before any
 * value is measured.
 *
 * <p>C = I^-1, the inverse of the expected (Fisher) information of REML at the assumed variances
 * theta, which depends on the layout and theta alone. For weights t of the components in a total:
 *
 * <ul>
 *   <li>relative standard error of a standard deviation: sqrt(C_kk) / (2 theta_k)
 *   <li>of the total's standard deviation: sqrt(t'Ct) / (2 t'theta)
 *   <li>effective degrees of freedom of the total: 2 (t'theta)^2 / t'Ct (Satterthwaite)
 * </ul>
 *
 * <p>Asymptotic: good to a few per cent of itself from about 20 units on, optimistic below. Limits
 * of a future unit are those of a fit that hit the assumed values exactly, which is close to their
 * median over studies.
 *
 * <p>Source: Searle, Casella and McCulloch (1992), Variance Components, section 6.6 (from memory).
 */
public final class ExpectedPrecision {
  private final ComponentsFit fit;
  private final double[] variances;
  private final double[][] covariance;

  private ExpectedPrecision(ComponentsFit fit, double[] variances, double[][] covariance) {
    this.fit = fit;
    this.variances = variances;
    this.covariance = covariance;
  }

  /** What can be said about a layout. */
  public sealed interface Outcome {
    /** The layout can tell the components apart. */
    record Expected(ExpectedPrecision precision) implements Outcome {}

    /** It cannot. */
    record Not(String reason) implements Outcome {}
  }

  /**
   * The precision of a layout.
   *
   * @param size number of observations, 2 or more
   * @param factors random factors, each with a level for each observation
   * @param variances assumed variances, in the order of the factors, the residual last; each 0 or
   *     above, the residual above 0
   * @param mean assumed mean
   */
  public static Outcome of(int size, List<RandomFactor> factors, double[] variances, double mean) {
    if (variances.length != factors.size() + 1) {
      throw new IllegalArgumentException(
          "variances must be "
              + (factors.size() + 1)
              + ", one for each factor and the residual, were "
              + variances.length);
    }
    for (double variance : variances) {
      if (!(variance >= 0 && variance < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException("variances must be 0 or above, had " + variance);
      }
    }
    if (!(variances[variances.length - 1] > 0)) {
      throw new IllegalArgumentException("the residual variance must be above 0");
    }
    CellMeans data = new Observations(anyValues(size, variances), factors).cells();
    Optional<NotEstimable> problem = Estimability.before(data);
    if (problem.isPresent()) {
      return new Outcome.Not(problem.get().reason());
    }
    ComponentsFit fit = ComponentsFit.assumed(data, variances, mean);
    problem = Estimability.information(fit.componentNames(), fit.scaledInformation());
    if (problem.isPresent()) {
      return new Outcome.Not(problem.get().reason());
    }
    Optional<double[][]> inverse = SmallMatrix.inverse(fit.information());
    return inverse.isEmpty()
        ? new Outcome.Not("The layout cannot tell the spreads of its factors apart.")
        : new Outcome.Expected(new ExpectedPrecision(fit, variances.clone(), inverse.get()));
  }

  /** Values that vary, of the size of the total spread; no result depends on them. */
  private static double[] anyValues(int size, double[] variances) {
    double sd = Math.sqrt(Arrays.stream(variances).sum());
    double[] values = new double[size];
    for (int i = 0; i < size; i++) {
      values[i] = sd * Math.sin(1.0 + 2.4 * i);
    }
    return values;
  }

  /** A fit that hit the assumed values exactly; a structure for refits. */
  public ComponentsFit fit() {
    return fit;
  }

  /**
   * Standard error of the standard deviation of one component as a fraction of itself. Empty when
   * the component is assumed to be zero.
   */
  public Optional<Double> relativeStandardError(String component) {
    int k = fit.index(component);
    return variances[k] > 0
        ? Optional.of(Math.sqrt(covariance[k][k]) / (2 * variances[k]))
        : Optional.empty();
  }

  /** The same of the standard deviation of all components but the excluded together. */
  public double relativeStandardErrorOfTotal(Set<String> excluded) {
    double total = 0;
    double variance = 0;
    Set<Integer> out = new HashSet<>();
    excluded.forEach(name -> out.add(fit.index(name)));
    for (int k = 0; k < variances.length; k++) {
      if (out.contains(k)) {
        continue;
      }
      total += variances[k];
      for (int l = 0; l < variances.length; l++) {
        variance += out.contains(l) ? 0 : covariance[k][l];
      }
    }
    return Math.sqrt(variance) / (2 * total);
  }

  /** Limits of a future unit if the estimates hit the assumed values. */
  public FutureUnitLimits limits(double content, double confidence) {
    return FutureUnitLimits.of(fit, Set.of(), content, confidence);
  }
}
