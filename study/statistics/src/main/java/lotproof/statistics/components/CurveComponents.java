package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.JointNormalBound;
import lotproof.statistics.SymmetricRoots;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Components of whole curves: one covariance matrix over the points for each kind of unit, and from
 * them a bound for the largest error of a future unit over all points together.
 *
 * <p>Construction:
 *
 * <ol>
 *   <li>Each point is fitted by REML on its own; a point without spread (an error that is zero by
 *       calibration, say) is taken as exactly constant.
 *   <li>The variances, summed over the points, give one common V. With P of that V and A_k = P V_k
 *       P, the matrices Y'A_k Y are equated to what they are expected to be: Theta = S^-1 (Y'A Y),
 *       S_kl = tr(P V_k P V_l). This is MINQUE, bilinear, on the weights of the REML fits. The mean
 *       curve is the generalised least squares mean under V.
 *   <li>Negative eigenvalues of each Theta_k are cut to zero.
 *   <li>Inflation: the largest ratio totalSdUpper / totalSd of {@link FutureUnitLimits} among the
 *       points that hold at least a quarter of the largest total variance.
 *   <li>A future unit is the mean + inflation times a normal curve with the covariance of a future
 *       unit plus that of the estimated mean; {@link JointNormalBound} bounds it over all points.
 * </ol>
 *
 * <p>What it is: a construction with simulated evidence, not a theorem. It rests on normal curves.
 * Simulated confidence at content 0.95 in studies of 50 + 50 units: 0.953 to 1.0, with curves that
 * were partly not normal. A claim "a % of reading + b" is served by dividing the curves by a x + b
 * first.
 *
 * <p>Source of MINQUE: Rao (1971), J. Multivariate Anal. 1 (from memory).
 */
public final class CurveComponents implements FitOutcome {
  private static final double COUNTED_SHARE = 0.25;

  private final List<Component> components;
  private final double[] means;
  private final double[][][] covariances;
  final double[][] futureCovariance;
  final double[][] meanCovariance;

  private CurveComponents(
      List<Component> components,
      double[] means,
      double[][][] covariances,
      double[][] futureCovariance,
      double[][] meanCovariance) {
    this.components = components;
    this.means = means;
    this.covariances = covariances;
    this.futureCovariance = futureCovariance;
    this.meanCovariance = meanCovariance;
  }

  /**
   * Fits the curves.
   *
   * @param curves one row for each run, one column for each point; all finite
   * @param factors random factors of the runs
   * @param near for each point the variances of an earlier fit of the same curves, in the order of
   *     the components, from which all points but the first start; empty where they are not known
   */
  public static FitOutcome estimate(
      double[][] curves, List<RandomFactor> factors, List<double[]> near) {
    double[][] points = byPoint(curves);
    List<ComponentsFit> fits = new ArrayList<>();
    for (int x = 0; x < points.length; x++) {
      double[] values = points[x];
      if (Arrays.stream(values).allMatch(value -> value == values[0])) {
        continue;
      }
      ComponentsFit last = fits.isEmpty() ? null : fits.get(fits.size() - 1);
      Observations observations =
          last == null ? new Observations(values, factors) : last.observations().withValues(values);
      FitOptions options =
          last == null || near.isEmpty()
              ? FitOptions.REML
              : FitOptions.REML.from(last, near.get(x));
      FitOutcome outcome = ComponentsFitter.fit(observations, options);
      if (outcome instanceof NotEstimable reason) {
        return reason;
      }
      fits.add((ComponentsFit) outcome);
    }
    if (fits.isEmpty()) {
      return new NotEstimable("No point of the curves differs between runs.");
    }
    return assemble(points, fits, ComponentWeights.ALL);
  }

  /**
   * The same from fits that are at hand already.
   *
   * @param curves one row for each run, one column for each point; all finite
   * @param fits REML fits of each point's values, in the order of the points, all with the same
   *     factors
   * @param weights how components enter a future unit
   */
  public static FitOutcome ofFits(
      double[][] curves, List<ComponentsFit> fits, ComponentWeights weights) {
    double[][] points = byPoint(curves);
    if (fits.size() != points.length) {
      throw new IllegalArgumentException(
          "there must be one fit for each of " + points.length + " points, had " + fits.size());
    }
    return assemble(points, fits, weights);
  }

  private static double[][] byPoint(double[][] curves) {
    if (curves.length == 0 || curves[0].length == 0) {
      throw new IllegalArgumentException("curves must have at least one run and one point");
    }
    double[][] points = new double[curves[0].length][curves.length];
    for (int run = 0; run < curves.length; run++) {
      if (curves[run].length != points.length) {
        throw new IllegalArgumentException(
            "every curve must have " + points.length + " points, had " + curves[run].length);
      }
      for (int x = 0; x < points.length; x++) {
        points[x][run] = Checks.finite(curves[run][x], "curves");
      }
    }
    return points;
  }

  /**
   * Factor by which deviations are widened for the uncertainty of the variances: the largest ratio
   * totalSdUpper / totalSd among the points that hold at least a quarter of the largest total
   * variance.
   *
   * @param points limits of a future unit at each point
   */
  public static double inflation(List<FutureUnitLimits> points) {
    double largest = points.stream().mapToDouble(FutureUnitLimits::totalSd).max().orElse(0);
    return points.stream()
        .filter(limits -> limits.totalSd() > 0)
        .filter(limits -> limits.totalSd() >= Math.sqrt(COUNTED_SHARE) * largest)
        .mapToDouble(limits -> limits.totalSdUpper() / limits.totalSd())
        .max()
        .orElse(1);
  }

  /**
   * Curves that are the sum of independent ones, such as cells on a reference board and boards on a
   * reference cell.
   *
   * @param halves at least one, all with the same points
   * @param shift known values that are added to the means, one for each point
   */
  public static CurveComponents sum(List<CurveComponents> halves, double[] shift) {
    double[] means = shift.clone();
    double[][] future = new double[means.length][means.length];
    double[][] ofMean = new double[means.length][means.length];
    for (CurveComponents half : halves) {
      Dense.addScaled(means, 0, 1, half.means, 0, means.length);
      for (int a = 0; a < means.length; a++) {
        Dense.addScaled(future[a], 0, 1, half.futureCovariance[a], 0, means.length);
        Dense.addScaled(ofMean[a], 0, 1, half.meanCovariance[a], 0, means.length);
      }
    }
    return new CurveComponents(List.of(), means, new double[0][][], future, ofMean);
  }

  private static FitOutcome assemble(
      double[][] points, List<ComponentsFit> fits, ComponentWeights use) {
    CellMeans data = fits.get(0).data();
    double[] weights = commonVariances(fits);
    LikelihoodSurface surface = new LikelihoodSurface(data);
    if (!Double.isFinite(surface.logLikelihood(weights))) {
      return new NotEstimable("The spreads of the points do not combine to a common one.");
    }
    Likelihood likelihood = surface.last();
    Optional<double[][]> inverse = SmallMatrix.inverse(surface.derivatives().expected());
    if (inverse.isEmpty()) {
      return new NotEstimable("The runs cannot tell the spreads of the units apart.");
    }
    double[] h = likelihood.meanWeights();
    double[] means = new double[points.length];
    double[][] projected = new double[points.length][];
    double[][] left = new double[points.length][];
    for (int x = 0; x < points.length; x++) {
      double base = points[x][0];
      double[] shifted = Arrays.stream(points[x]).map(v -> v - base).toArray();
      double[] rowMeans = data.rowMeans(shifted);
      means[x] = base + Dense.dot(h, rowMeans);
      projected[x] = likelihood.project(rowMeans);
      left[x] = shifted;
      for (int i = 0; i < shifted.length; i++) {
        shifted[i] -= rowMeans[data.rowOf[i]];
      }
    }
    double[][][] forms = forms(likelihood, projected, left);
    double[][][] theta =
        Arrays.stream(inverse.get()).map(row -> combine(row, forms)).toArray(double[][][]::new);
    if (!finite(means)
        || !Arrays.stream(theta).flatMap(Arrays::stream).allMatch(CurveComponents::finite)) {
      return new NotEstimable("The points differ by so much that their spreads do not combine.");
    }
    Arrays.setAll(theta, k -> SymmetricRoots.positivePart(theta[k]));
    double[] g = likelihood.meanVarianceGradient();
    List<Component> components = fits.get(0).components();
    double[] member = use.ofUnit(components);
    Dense.addScaled(g, 0, 1, use.ofMean(components), 0, g.length);
    return new CurveComponents(components, means, theta, combine(member, theta), combine(g, theta));
  }

  private static boolean finite(double[] values) {
    return Arrays.stream(values).allMatch(Double::isFinite);
  }

  /** Variances summed over the points, to a total of one. */
  private static double[] commonVariances(List<ComponentsFit> fits) {
    double[] sum = new double[fits.get(0).components().size()];
    for (ComponentsFit fit : fits) {
      Dense.addScaled(sum, 0, 1, fit.variances(), 0, sum.length);
    }
    double total = Arrays.stream(sum).sum();
    return Arrays.stream(sum).map(v -> v / total).toArray();
  }

  /**
   * Half of Y'P V_k P Y for each component, as the information is half of the traces; for the
   * residual with what differs within rows.
   */
  private static double[][][] forms(Likelihood likelihood, double[][] projected, double[][] left) {
    int m = projected.length;
    double[] theta = likelihood.point();
    int e = theta.length - 1;
    double[][][] forms = new double[theta.length][m][m];
    for (int a = 0; a < m; a++) {
      for (int k = 0; k <= e; k++) {
        double[] moved = likelihood.applyCovariance(k, projected[a]);
        for (int b = 0; b < m; b++) {
          forms[k][a][b] = Dense.dot(moved, projected[b]) / 2;
        }
      }
      for (int b = 0; b < m && likelihood.data.withinDegreesOfFreedom > 0; b++) {
        forms[e][a][b] += Dense.dot(left[a], left[b]) / (2 * theta[e] * theta[e]);
      }
    }
    return forms;
  }

  private static double[][] combine(double[] weights, double[][][] matrices) {
    int m = matrices[0].length;
    double[][] result = new double[m][m];
    for (int k = 0; k < weights.length; k++) {
      for (int a = 0; a < m; a++) {
        Dense.addScaled(result[a], 0, weights[k], matrices[k][a], 0, m);
      }
    }
    return result;
  }

  /** Components in the order of the factors, the residual last. */
  public List<Component> components() {
    return components;
  }

  /** Mean of each point. */
  public double[] means() {
    return means.clone();
  }

  /** Covariance over the points of one component. */
  public double[][] covariance(Component component) {
    int k = components.indexOf(component);
    if (k < 0) {
      throw new IllegalArgumentException(
          "no component is called \"" + component + "\"; there are " + components);
    }
    return Arrays.stream(covariances[k]).map(double[]::clone).toArray(double[][]::new);
  }

  /**
   * Bound of a future unit over all points.
   *
   * @param inflation factor for the deviations, above 0, see {@link #inflation}
   * @param sizes true: the largest size; false: the largest value, too low readings not counted
   */
  public JointNormalBound future(double inflation, boolean sizes) {
    if (!(inflation > 0 && inflation < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("inflation must be above 0 and finite, was " + inflation);
    }
    double square = inflation * inflation;
    double[][] covariance =
        combine(new double[] {square, square}, new double[][][] {futureCovariance, meanCovariance});
    return new JointNormalBound(means, covariance, sizes);
  }
}
