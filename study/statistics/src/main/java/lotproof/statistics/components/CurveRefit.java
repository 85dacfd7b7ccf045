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

  /** A point this much below the widest by a rough measure cannot be the widest. */
  private static final double WORTH_A_LOOK = 0.93;

  private final List<Part> parts;

  /**
   * Prepares simulations of one layout.
   *
   * @param parts independent sets of runs whose sum is a unit
   */
  public CurveRefit(List<Part> parts) {
    this.parts = List.copyOf(parts);
  }

  /**
   * What is fitted: all runs, or the runs of units of one kind on a reference partner.
   *
   * @param structure a fit with the layout and variances near those to be found at the anchor
   * @param weights how components enter a future unit
   */
  public record Part(ComponentsFit structure, ComponentWeights weights) {}

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
    List<FutureSpread> spreads = new ArrayList<>();
    for (int x = 0; x < points; x++) {
      FutureSpread spread = new FutureSpread();
      for (Refitted one : refitted) {
        one.add(x, spread);
        means[x] += one.step.means()[x];
        total[x] += one.own(x);
      }
      spreads.add(spread);
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

  private static double atPoints(double[] means, List<FutureSpread> spreads, Question question) {
    double[] rough = new double[means.length];
    double roughest = 0;
    for (int x = 0; x < rough.length; x++) {
      rough[x] = Math.abs(means[x]) + 2 * spreads.get(x).tauUpper();
      roughest = Math.max(roughest, rough[x]);
    }
    double widest = 0;
    for (int x = 0; x < rough.length; x++) {
      if (rough[x] >= WORTH_A_LOOK * roughest) {
        widest =
            Math.max(
                widest,
                spreads
                    .get(x)
                    .symmetricHalfWidth(means[x], question.content(), question.confidence()));
      }
    }
    return widest;
  }

  private static double inflation(List<FutureSpread> spreads, double[] total) {
    double largest = Arrays.stream(total).max().orElse(0);
    double inflation = 1;
    for (int x = 0; x < total.length; x++) {
      if (total[x] >= COUNTED_SHARE * largest && total[x] > 0 && spreads.get(x).tau() > 0) {
        inflation = Math.max(inflation, spreads.get(x).ratio());
      }
    }
    return inflation;
  }

  private static Optional<Refitted> refit(Part part, double[][] points, Question question) {
    ComponentsFit structure = part.structure();
    Observations values = structure.observations().withValues(points[question.anchor()]);
    FitOutcome warm = ComponentsFitter.fit(values, FitOptions.REML.from(structure));
    FitOutcome fitted =
        warm instanceof ComponentsFit ? warm : ComponentsFitter.fit(values, FitOptions.REML);
    return fitted instanceof ComponentsFit fit
        ? Optional.of(new Refitted(part, fit, points, question))
        : Optional.empty();
  }

  /** One part after its fit. */
  private static final class Refitted {
    private final FutureSpread.Source source;
    private final CurveComponents.Step step;
    private final int anchor;
    private final double[] anchorVariances;

    Refitted(Part part, ComponentsFit fit, double[][] points, Question question) {
      source =
          new FutureSpread.Source(
              new FutureUnitLimits.Part(fit, part.weights()), question.confidence());
      anchor = question.anchor();
      anchorVariances = fit.variances();
      step =
          CurveComponents.Step.of(fit.surface().last(), fit.scaledInformation(), points)
              .orElseThrow(() -> new IllegalStateException("information is singular"));
    }

    private double[] unconstrained(int x) {
      return Arrays.stream(step.covariances()).mapToDouble(matrix -> matrix[x][x]).toArray();
    }

    private double[] estimates(int x) {
      return x == anchor
          ? anchorVariances
          : Arrays.stream(unconstrained(x)).map(v -> Math.max(0, v)).toArray();
    }

    /** Variance of the future unit at a point. */
    double own(int x) {
      return Dense.dot(source.member(), estimates(x));
    }

    void add(int x, FutureSpread sum) {
      source.addTo(sum, unconstrained(x), estimates(x));
    }

    /** Adds the covariance of a future unit and that of the mean. */
    void addCovariance(double[][] sum) {
      for (int k = 0; k < step.covariances().length; k++) {
        double weight = source.member()[k] + source.gradient()[k];
        if (weight != 0) {
          double[][] positive = SymmetricRoots.positivePart(step.covariances()[k]);
          for (int x = 0; x < sum.length; x++) {
            Dense.addScaled(sum[x], 0, weight, positive[x], 0, sum.length);
          }
        }
      }
    }
  }
}
