package lotproof.claim.evidence;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.study.ClaimForm;

/**
 * What an error curve can do between two tested loads: a smooth curve leaves the straight line
 * between them by at most step^2 / 8 times its largest second derivative (the remainder of linear
 * interpolation, textbook). The second derivative is estimated from the divided differences of
 * neighbouring tested loads in the same direction, which hold the noise too and so err on the safe
 * side; the largest over the tested kits counts. Exact for a parabola; a noiseless half sine over
 * five steps is undercut by up to 8 % of the allowance where its top lies between two loads.
 */
final class BetweenLoads {
  private BetweenLoads() {}

  /**
   * The allowance in the claim's form; empty where no direction has three loads, so that nothing is
   * known of the bend.
   */
  static OptionalDouble grams(List<ErrorCurve> curves, ClaimForm form) {
    OptionalDouble largest = OptionalDouble.empty();
    for (ErrorCurve curve : curves) {
      for (Direction direction : Direction.values()) {
        OptionalDouble one = ofBranch(branch(curve, direction), form);
        if (one.isPresent() && !(largest.orElse(-1) >= one.getAsDouble())) {
          largest = one;
        }
      }
    }
    return largest;
  }

  /** Points of one direction; the falling branch begins at the peak. */
  private static List<ErrorCurve.Point> branch(ErrorCurve curve, Direction direction) {
    List<ErrorCurve.Point> points = curve.points();
    int peak = 0;
    while (peak + 1 < points.size() && points.get(peak + 1).direction() == Direction.RISING) {
      peak++;
    }
    return direction == Direction.RISING
        ? points.subList(0, peak + 1)
        : points.subList(peak, points.size());
  }

  private static OptionalDouble ofBranch(List<ErrorCurve.Point> branch, ClaimForm form) {
    OptionalDouble largest = OptionalDouble.empty();
    for (int i = 0; i + 1 < branch.size(); i++) {
      double step = Math.abs(branch.get(i + 1).loadKilograms() - branch.get(i).loadKilograms());
      double bend = -1;
      for (int middle = i; middle <= i + 1; middle++) {
        if (middle > 0 && middle + 1 < branch.size()) {
          bend = Math.max(bend, secondDerivative(branch, middle));
        }
      }
      double lower = Math.min(branch.get(i).loadKilograms(), branch.get(i + 1).loadKilograms());
      if (bend >= 0) {
        double grams = step * step / 8 * bend / form.weight(lower);
        largest = OptionalDouble.of(Math.max(largest.orElse(0), grams));
      }
    }
    return largest;
  }

  /** Twice the second divided difference, in size; 0 where two loads are the same. */
  private static double secondDerivative(List<ErrorCurve.Point> branch, int middle) {
    ErrorCurve.Point before = branch.get(middle - 1);
    ErrorCurve.Point here = branch.get(middle);
    ErrorCurve.Point after = branch.get(middle + 1);
    double first = here.loadKilograms() - before.loadKilograms();
    double second = after.loadKilograms() - here.loadKilograms();
    if (first == 0 || second == 0 || first + second == 0) {
      return 0;
    }
    double slopes =
        (after.errorGrams() - here.errorGrams()) / second
            - (here.errorGrams() - before.errorGrams()) / first;
    return Math.abs(2 * slopes / (first + second));
  }
}
