package lotproof.model;

import java.util.Arrays;

/**
 * Errors of all runs over the points of a run, in the form of the claim, so that a bound on them is
 * the figure.
 *
 * @param byPoint for each point one value for each run
 * @param shifts known values added to the sum of the parts, one for each point
 * @param sizes whether sizes count; else values above zero alone
 */
@SuppressWarnings("ArrayRecordComponent") // compared by no one
public record CurveValues(double[][] byPoint, double[] shifts, boolean sizes) {

  /** Values to which nothing is added. */
  public CurveValues(double[][] byPoint, boolean sizes) {
    this(byPoint, new double[byPoint.length], sizes);
  }

  /** Number of points. */
  public int points() {
    return byPoint.length;
  }

  /** The values at some of the points. */
  public CurveValues at(int[] points) {
    return new CurveValues(
        Arrays.stream(points).mapToObj(p -> byPoint[p]).toArray(double[][]::new),
        Arrays.stream(points).mapToDouble(p -> shifts[p]).toArray(),
        sizes);
  }

  /** The part of a value that counts. */
  double counted(double value) {
    return sizes ? Math.abs(value) : value;
  }

  /** The largest counted value over all runs and points, 0 or above. */
  public double largest() {
    return Arrays.stream(byPoint)
        .flatMapToDouble(Arrays::stream)
        .map(this::counted)
        .reduce(0, Math::max);
  }
}
