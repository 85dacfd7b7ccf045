package lotproof.claim.evidence;

import java.util.List;
import java.util.stream.IntStream;
import lotproof.model.CurveValues;
import lotproof.reduce.ErrorCurve;
import lotproof.study.ClaimForm;

/**
 * Error curves seen through the claim's form: only points that calibration and taring leave free,
 * each error divided by the form's weight at the load, and with its sign turned where only reading
 * too little counts. A bound on these numbers is the figure.
 */
public final class ErrorsInClaimForm {
  /** Errors of all runs below this are a fixed point of the calibration, not a measurement. */
  private static final double FIXED_POINT_GRAMS = 1e-6;

  private final List<ErrorCurve> curves;
  private final ClaimForm form;
  private final List<Integer> points;

  private ErrorsInClaimForm(List<ErrorCurve> curves, ClaimForm form, List<Integer> points) {
    this.curves = curves;
    this.form = form;
    this.points = points;
  }

  /** Curves with the same points, at least one. */
  public static ErrorsInClaimForm of(List<ErrorCurve> curves, ClaimForm form) {
    List<Integer> moving =
        IntStream.range(0, curves.get(0).points().size())
            .filter(
                i ->
                    curves.stream()
                        .anyMatch(
                            c -> Math.abs(c.points().get(i).errorGrams()) > FIXED_POINT_GRAMS))
            .boxed()
            .toList();
    return new ErrorsInClaimForm(curves, form, moving);
  }

  /** The same points of some of the curves. */
  public ErrorsInClaimForm only(List<Integer> kept) {
    return new ErrorsInClaimForm(kept.stream().map(curves::get).toList(), form, points);
  }

  public List<ErrorCurve> curves() {
    return curves;
  }

  /** Number of points that count. */
  public int size() {
    return points.size();
  }

  public boolean twoSided() {
    return form.twoSided();
  }

  /** -1 if only negative errors count. */
  public double sign() {
    return form.sign();
  }

  public ErrorCurve.Point place(int point) {
    return curves.get(0).points().get(points.get(point));
  }

  /** The form's weight at a point. */
  public double weight(int point) {
    return form.weight(place(point).loadKilograms());
  }

  /** Values at one point, one for each curve. */
  public List<Double> at(int point) {
    return curves.stream().map(c -> value(c.points().get(points.get(point)))).toList();
  }

  private double value(ErrorCurve.Point point) {
    return form.inForm(point.errorGrams(), point.loadKilograms());
  }

  /** For each point one value for each curve. */
  public double[][] byPoint() {
    return points.stream()
        .map(p -> curves.stream().mapToDouble(c -> value(c.points().get(p))).toArray())
        .toArray(double[][]::new);
  }

  /** What the model of these curves is fitted to. */
  public CurveValues values() {
    return new CurveValues(byPoint(), twoSided());
  }

  /** The largest counted value of each curve; 0 at the tared zero, so never below. */
  public List<Double> largest() {
    return curves.stream().map(curve -> curve.largestGrams(form)).toList();
  }

  /** Index of the reading of a curve that is its largest. */
  public int worstReading(ErrorCurve curve) {
    List<ErrorCurve.Point> all = curve.points();
    return IntStream.range(0, all.size())
        .reduce(
            0,
            (best, i) ->
                form.counted(value(all.get(i))) > form.counted(value(all.get(best))) ? i : best);
  }
}
