package lotproof.claim.evidence;

import java.util.List;
import java.util.stream.IntStream;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.CurveValues;
import lotproof.reduce.ErrorCurve;
import lotproof.study.ClaimForm;
import lotproof.study.Study;

/**
 * Error curves seen through the claim's form: only points that calibration and taring leave free,
 * each error divided by the form's weight at the load, and with its sign turned where only reading
 * too little counts. A bound on these numbers is the figure.
 *
 * @param curves curves with the same points, at least one
 * @param points which of them count
 */
public record ErrorsInClaimForm(List<ErrorCurve> curves, ClaimForm form, List<Integer> points) {
  /** Errors of all runs below this are a fixed point of the calibration, not a measurement. */
  public static final double FIXED_POINT_GRAMS = 1e-6;

  /** All points at which some curve moves. */
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

  /** The same of those that count for the study's claim. */
  public ErrorsInClaimForm ofSubject(Study study) {
    return new ErrorsInClaimForm(SubjectRuns.of(study, curves), form, points);
  }

  /** Number of points that count. */
  public int size() {
    return points.size();
  }

  public ErrorCurve.Point place(int point) {
    return curves.get(0).points().get(points.get(point));
  }

  /** The form's weight at a point. */
  public double weight(int point) {
    return form.weight(place(point).loadKilograms());
  }

  /** Values at one point, one for each curve. */
  public double[] at(int point) {
    return curves.stream().mapToDouble(c -> value(c.points().get(points.get(point)))).toArray();
  }

  private double value(ErrorCurve.Point point) {
    return form.inForm(point.errorGrams(), point.loadKilograms());
  }

  /** For each point one value for each curve. */
  public double[][] byPoint() {
    return IntStream.range(0, size()).mapToObj(this::at).toArray(double[][]::new);
  }

  /** What the model of these curves is fitted to. */
  public CurveValues values() {
    return new CurveValues(byPoint(), form.twoSided());
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
