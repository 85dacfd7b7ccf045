package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.Checks;

/**
 * The bounds of a future unit from simulated curves, as {@link FutureUnitLimits} and {@link
 * CurveComponents} give them, made quick for many thousand simulated studies of one layout.
 *
 * <p>One point, the anchor, is fitted by REML. At the others the variances are one scoring step
 * from the anchor's: C (1/2 y'P V_k P y), with P and C = I^-1 of the anchor, which is exact where
 * points differ by a factor only; their pseudo mean squares have the anchor's matrix T and degrees
 * of freedom, which in a balanced study depend on the layout alone. The covariances over the points
 * are the same step for products of points. The bound over all points together is a {@link
 * JointNormalBound}.
 *
 * <p>How close it comes to the analysis itself is measured: docs/guarantees.md.
 */
public final class CurveRefit {
  /** Points whose total variance is smaller, relative to the largest, do not count in inflation. */
  private static final double COUNTED_SHARE = 0.25;

  private static final double SMALLEST_PHI_SHARE = 0.02;

  /** A point this much below the widest by a rough measure cannot be the widest. */
  private static final double WORTH_A_LOOK = 0.93;

  private final List<Prepared> parts;

  /**
   * Prepares simulations of one layout.
   *
   * @param parts independent sets of runs whose sum is a unit
   */
  public CurveRefit(List<Part> parts) {
    this.parts =
        parts.stream().map(part -> new Prepared(part, new QuickRefit(part.structure()))).toList();
  }

  /**
   * What is fitted: all runs, or the runs of units of one kind on a reference partner.
   *
   * @param structure a fit with the layout and variances near those to be found at the anchor
   * @param finestFirst component names from the finest
   * @param weights how components enter a future unit
   */
  public record Part(ComponentsFit structure, List<String> finestFirst, ComponentWeights weights) {
    public Part {
      finestFirst = List.copyOf(finestFirst);
    }
  }

  /** A part with what its fits need and no value changes. */
  private record Prepared(Part part, QuickRefit refit) {}

  /**
   * Bounds of the size of a future unit's values.
   *
   * @param atPoints the widest of the limits about zero at single points
   * @param together for all points together; where it is below what was asked to be looked at, that
   */
  public record Bounds(double atPoints, double together) {
    /** The larger of the two. */
    public double larger() {
      return Math.max(atPoints, together);
    }
  }

  /**
   * What is asked of one simulated study.
   *
   * @param shifts known values added to the sum of the parts, one for each point
   * @param anchor index of the point that is fitted
   * @param content share of future units within the bounds
   * @param confidence share of studies whose bounds keep the promise
   * @param floor a bound over all points together below this is of no interest
   */
  @SuppressWarnings("ArrayRecordComponent") // compared by no one
  public record Question(
      double[] shifts, int anchor, double content, double confidence, double floor) {
    public Question {
      Checks.fraction(content, "content");
      Checks.fraction(confidence, "confidence");
    }
  }

  /**
   * Bounds from one simulated study, or nothing when it cannot be fitted. Threads may share it.
   *
   * @param values for each part and point one value for each run
   */
  public Optional<Bounds> bounds(List<double[][]> values, Question question) {
    List<Refitted> refitted = new ArrayList<>();
    for (int i = 0; i < parts.size(); i++) {
      Optional<Refitted> one = refit(parts.get(i), values.get(i), question);
      if (one.isEmpty()) {
        return Optional.empty();
      }
      refitted.add(one.get());
    }
    int points = question.shifts().length;
    double[] means = question.shifts().clone();
    double[] total = new double[points];
    FutureUnitLimits.Spread[] spreads = new FutureUnitLimits.Spread[points];
    for (int x = 0; x < points; x++) {
      FutureUnitLimits.Spread.Sums sums = new FutureUnitLimits.Spread.Sums();
      for (Refitted one : refitted) {
        one.add(x, sums);
        means[x] += one.means[x];
        total[x] += one.own(x);
      }
      spreads[x] = FutureUnitLimits.Spread.of(sums);
    }
    double atPoints = atPoints(means, spreads, question);
    double[][] covariance = new double[points][points];
    for (Refitted one : refitted) {
      one.addCovariance(covariance);
    }
    double inflation = inflation(spreads, total);
    for (double[] row : covariance) {
      for (int x = 0; x < points; x++) {
        row[x] *= inflation * inflation;
      }
    }
    JointNormalBound curve = new JointNormalBound(means, covariance, true);
    double floor = Math.max(atPoints, question.floor());
    double together =
        curve.within(floor) >= question.content() ? floor : curve.bound(question.content());
    return Optional.of(new Bounds(atPoints, together));
  }

  private static double atPoints(
      double[] means, FutureUnitLimits.Spread[] spreads, Question question) {
    double[] rough = new double[means.length];
    double roughest = 0;
    for (int x = 0; x < rough.length; x++) {
      rough[x] = Math.abs(means[x]) + 2 * spreads[x].tauUpper();
      roughest = Math.max(roughest, rough[x]);
    }
    double widest = 0;
    for (int x = 0; x < rough.length; x++) {
      if (rough[x] >= WORTH_A_LOOK * roughest) {
        widest =
            Math.max(
                widest,
                spreads[x].symmetricHalfWidth(means[x], question.content(), question.confidence()));
      }
    }
    return widest;
  }

  private static double inflation(FutureUnitLimits.Spread[] spreads, double[] total) {
    double largest = Arrays.stream(total).max().orElse(0);
    double inflation = 1;
    for (int x = 0; x < total.length; x++) {
      if (total[x] >= COUNTED_SHARE * largest && total[x] > 0 && spreads[x].tau() > 0) {
        inflation = Math.max(inflation, spreads[x].tauUpper() / spreads[x].tau());
      }
    }
    return inflation;
  }

  private static Optional<Refitted> refit(Prepared prepared, double[][] points, Question question) {
    double[] values = points[question.anchor()];
    Optional<QuickRefit.Refitted> quick = prepared.refit().of(values);
    if (quick.isPresent()) {
      Likelihood likelihood = quick.get().likelihood();
      return Optional.of(
          new Refitted(prepared.part(), quick.get().fit(), likelihood, points, question));
    }
    return ComponentsFitter.refit(prepared.part().structure(), values) instanceof ComponentsFit fit
        ? Optional.of(new Refitted(prepared.part(), fit, fit.surface().last(), points, question))
        : Optional.empty();
  }

  /** One part after its fit. */
  private static final class Refitted {
    private final double[] means;
    private final int anchor;
    private final double[] anchorVariances;

    /** For each component the covariances of one scoring step over the points. */
    private final double[][][] theta;

    private final double[] member;
    private final double[] gradient;
    private final double[][] t;
    private final double[] a;
    private final double[] q;
    private final FutureUnitLimits.Margins margins;

    Refitted(
        Part part, ComponentsFit fit, Likelihood likelihood, double[][] points, Question question) {
      anchor = question.anchor();
      anchorVariances = fit.variances();
      ReducedRows data = fit.data();
      double[] h = likelihood.meanWeights();
      means = new double[points.length];
      double[][] projected = new double[points.length][];
      for (int x = 0; x < points.length; x++) {
        double base = points[x][0];
        double[] rows = data.rowMeans(points[x]);
        for (int p = 0; p < rows.length; p++) {
          rows[p] -= base;
        }
        means[x] = base + Dense.dot(h, rows);
        projected[x] = likelihood.project(rows);
      }
      double[][] within = CurveComponents.withinProducts(points, data);
      double[][][] forms = CurveComponents.forms(likelihood, projected, within);
      double[][] inverse =
          SmallMatrix.inverse(fit.scaledInformation())
              .orElseThrow(() -> new IllegalStateException("information is singular"));
      theta = new double[forms.length][][];
      for (int k = 0; k < theta.length; k++) {
        theta[k] = CurveComponents.combine(inverse[k], forms);
      }
      List<String> names = fit.componentNames();
      member = part.weights().ofUnit(names);
      gradient = fit.meanVarianceGradient();
      Dense.addScaled(gradient, 0, 1, part.weights().ofMean(names), 0, gradient.length);
      PseudoMeanSquares squares = PseudoMeanSquares.of(fit, part.finestFirst());
      t = squares.t();
      a = squares.coefficients(member);
      q = squares.coefficients(gradient);
      margins = new FutureUnitLimits.Margins(squares.nu(), question.confidence());
    }

    private double[] kept(int x) {
      if (x == anchor) {
        return anchorVariances;
      }
      double[] kept = new double[theta.length];
      for (int k = 0; k < kept.length; k++) {
        kept[k] = Math.max(0, theta[k][x][x]);
      }
      return kept;
    }

    /** Variance of the future unit at a point. */
    double own(int x) {
      return Dense.dot(member, kept(x));
    }

    void add(int x, FutureUnitLimits.Spread.Sums sums) {
      double[] moved = new double[theta.length];
      for (int k = 0; k < moved.length; k++) {
        moved[k] = theta[k][x][x];
      }
      double[] kept = kept(x);
      double[] phi = SmallMatrix.times(t, moved);
      double[] estimated = SmallMatrix.times(t, kept);
      for (int i = 0; i < phi.length; i++) {
        phi[i] = Math.max(phi[i], SMALLEST_PHI_SHARE * estimated[i]);
      }
      sums.add(a, q, phi, margins, Dense.dot(member, kept), Dense.dot(gradient, kept));
    }

    /** Adds the covariance of a future unit and that of the mean. */
    void addCovariance(double[][] sum) {
      for (int k = 0; k < theta.length; k++) {
        double weight = member[k] + gradient[k];
        if (weight == 0) {
          continue;
        }
        double[][] positive = SymmetricRoots.positivePart(theta[k]);
        for (int x = 0; x < sum.length; x++) {
          Dense.addScaled(sum[x], 0, weight, positive[x], 0, sum.length);
        }
      }
    }
  }
}
