package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.statistics.components.Observations.FixedColumn;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Estimated variance components with everything that later steps compute from: slopes, information,
 * fitted mean. Components stand in the order of the factors, the residual last. All numbers are in
 * the unit of the observations or its powers.
 */
public final class ComponentsFit implements FitOutcome {
  private final CellMeans data;
  private final double[] scaledVariances;
  private final double logLikelihood;
  private final double[] scaledScore;
  private final double[][] scaledInformation;

  private final double[] meanVarianceGradient;
  private final double[] fixedEstimates;
  private final double[][] fixedCovariance;
  private final FitRecord record;

  /**
   * A fit at some variances.
   *
   * @param theta scaled variances
   * @param assumedMean scaled, of a fit that hit assumed values exactly, with no slope left
   */
  ComponentsFit(
      LikelihoodSurface surface, double[] theta, Optional<double[]> assumedMean, FitRecord record) {
    this.data = surface.data();
    this.scaledVariances = theta;
    this.logLikelihood = surface.logLikelihood(theta);
    Likelihood.Derivatives slopes = surface.derivatives();
    this.scaledInformation = slopes.expected();
    boolean assumed = assumedMean.isPresent();
    this.scaledScore = assumed ? new double[theta.length] : slopes.score();
    this.meanVarianceGradient = surface.last().meanVarianceGradient();
    this.fixedEstimates = assumedMean.orElseGet(surface.last()::fixedEstimates);
    this.fixedCovariance = surface.last().fixedCovariance();
    this.record = record;
  }

  /** Components of the factors in their order, then the residual. */
  public List<Component> components() {
    return data.observations.components();
  }

  /** Estimated variances; zero where the likelihood falls from zero. */
  public double[] variances() {
    return times(scaledVariances, data.scale * data.scale);
  }

  /** Variance of one component. */
  public double variance(Component component) {
    return variances()[index(component)];
  }

  int index(Component component) {
    int index = components().indexOf(component);
    if (index < 0) {
      throw new IllegalArgumentException(
          "no component is called \"" + component + "\"; there are " + components());
    }
    return index;
  }

  /**
   * Generalised least squares mean, (1'V^-1 y) / (1'V^-1 1); with fixed columns, the value at the
   * average of each column.
   */
  public double mean() {
    return data.shift + data.scale * fixedEstimates[0];
  }

  /** Square root of the variance of the fitted mean with the variances taken as known. */
  public double meanStandardError() {
    return data.scale * Math.sqrt(fixedCovariance[0][0]);
  }

  /** Estimated change for one unit of each fixed column, in the order of the columns. */
  public List<FixedEffect> fixedEffects() {
    List<FixedEffect> effects = new ArrayList<>();
    List<FixedColumn> columns = data.observations.fixedColumns();
    for (int c = 0; c < columns.size(); c++) {
      effects.add(
          new FixedEffect(
              columns.get(c).name(),
              data.scale * fixedEstimates[c + 1],
              data.scale * Math.sqrt(fixedCovariance[c + 1][c + 1])));
    }
    return List.copyOf(effects);
  }

  /** Derivative of the variance of the fitted mean by each variance, |Z_k' h|^2 with mean = h'y. */
  public double[] meanVarianceGradient() {
    return meanVarianceGradient.clone();
  }

  /**
   * Minus twice the maximised restricted log-likelihood with its constants: (n - p) log 2 pi +
   * log|V| + log|X'V^-1 X| + y'Py.
   */
  public double minusTwoLogLikelihood() {
    int free = data.observations.size() - data.fixed.length;
    return free * (Math.log(2 * Math.PI) + 2 * Math.log(data.scale))
        + data.sumLogReadings
        - 2 * logLikelihood;
  }

  /**
   * Variances one scoring step beyond the estimate over all components, theta + I^-1 score, not cut
   * at zero: equal to the estimate inside, below zero where the data speak against a component.
   */
  public double[] unconstrainedVariances() {
    return times(scaledUnconstrained(), data.scale * data.scale);
  }

  double[] scaledUnconstrained() {
    double[] step =
        SmallMatrix.solve(scaledInformation, scaledScore)
            .orElseThrow(() -> new IllegalStateException("information is singular"));
    for (int k = 0; k < step.length; k++) {
      step[k] += scaledVariances[k];
    }
    return step;
  }

  /** True when the estimate of the component is zero: not detectable, which is not "absent". */
  public boolean atBoundary(Component component) {
    index(component);
    return record.atBoundary().contains(component.name());
  }

  /**
   * Asymptotic standard error of the standard deviation of one component as a fraction of itself,
   * sqrt(C_kk) / (2 theta_k) with C the inverse information. Empty when the component is zero.
   */
  public Optional<Double> relativeStandardError(Component component) {
    int k = index(component);
    return scaledVariances[k] > 0
        ? Optional.of(Math.sqrt(covariance()[k][k]) / (2 * scaledVariances[k]))
        : Optional.empty();
  }

  /**
   * The same of the standard deviation of all components but the excluded together, sqrt(t'Ct) / (2
   * t'theta), t the components that count; 1 / (2 times its square) degrees of freedom
   * (Satterthwaite).
   */
  public double relativeStandardErrorOfTotal(Set<Component> excluded) {
    double[] counted = ComponentWeights.without(excluded).ofUnit(components());
    return Math.sqrt(SmallMatrix.quadratic(covariance(), counted))
        / (2 * Dense.dot(counted, scaledVariances));
  }

  /** Asymptotic variance of a weighted sum of the estimated variances. */
  double varianceOf(double[] weights) {
    double unit = data.scale * data.scale;
    return unit * unit * SmallMatrix.quadratic(covariance(), weights);
  }

  private double[][] covariance() {
    return SmallMatrix.inverse(scaledInformation)
        .orElseThrow(() -> new IllegalStateException("information is singular"));
  }

  public FitRecord record() {
    return record;
  }

  public Observations observations() {
    return data.observations;
  }

  CellMeans data() {
    return data;
  }

  double[] scaledVariances() {
    return scaledVariances.clone();
  }

  double[] scaledScore() {
    return scaledScore.clone();
  }

  double[][] scaledInformation() {
    return scaledInformation;
  }

  double scaledLogLikelihood() {
    return logLikelihood;
  }

  /** A surface that stands at the estimate. */
  LikelihoodSurface surface() {
    LikelihoodSurface surface = new LikelihoodSurface(data);
    surface.logLikelihood(scaledVariances);
    return surface;
  }

  private static double[] times(double[] values, double factor) {
    double[] result = values.clone();
    for (int k = 0; k < result.length; k++) {
      result[k] *= factor;
    }
    return result;
  }

  /**
   * How a fit was found, so that it can be judged and repeated.
   *
   * @param startVariances variances from which the kept solution was reached
   * @param endVariances variances of the solution, factors in order, then the residual
   * @param iterations accepted steps from the kept start
   * @param evaluations likelihood evaluations over all starts
   * @param startsTried number of starts
   * @param stoppingReason why the iteration ended
   * @param converged true when no step could improve the likelihood any more
   * @param atBoundary names of the components whose estimate is zero because the likelihood falls
   *     from there
   */
  public record FitRecord(
      List<Double> startVariances,
      List<Double> endVariances,
      int iterations,
      int evaluations,
      int startsTried,
      String stoppingReason,
      boolean converged,
      Set<String> atBoundary) {
    public FitRecord {
      startVariances = List.copyOf(startVariances);
      endVariances = List.copyOf(endVariances);
      atBoundary = Set.copyOf(atBoundary);
    }
  }

  /**
   * Estimated change of the value for one unit of a fixed column.
   *
   * @param name name of the column
   * @param estimate change for one unit of the column
   * @param standardError of the estimate, variances taken as known
   */
  public record FixedEffect(String name, double estimate, double standardError) {}
}
