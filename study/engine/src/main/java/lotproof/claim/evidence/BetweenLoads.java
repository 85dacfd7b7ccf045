package lotproof.claim.evidence;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import java.util.stream.Stream;
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
    return curves.stream()
        .flatMap(curve -> branches(curve.points()))
        .flatMapToDouble(branch -> ofBranch(branch, form))
        .max();
  }

  /** The rising points, and the falling ones with the peak before them. */
  private static Stream<List<ErrorCurve.Point>> branches(List<ErrorCurve.Point> points) {
    int peak = 0;
    while (peak + 1 < points.size() && points.get(peak + 1).direction() == Direction.RISING) {
      peak++;
    }
    return Stream.of(points.subList(0, peak + 1), points.subList(peak, points.size()));
  }

  /** The allowance of each step of a branch that has three loads. */
  private static DoubleStream ofBranch(List<ErrorCurve.Point> branch, ClaimForm form) {
    return branch.size() < 3
        ? DoubleStream.empty()
        : IntStream.range(0, branch.size() - 1)
            .mapToDouble(
                i -> {
                  double one = branch.get(i).loadKilograms();
                  double other = branch.get(i + 1).loadKilograms();
                  double bend = Math.max(bend(branch, i), bend(branch, i + 1));
                  double step = other - one;
                  return step * step / 8 * bend / form.weight(Math.min(one, other));
                });
  }

  /**
   * Twice the second divided difference, in size; 0 where two loads are the same, and at the ends.
   */
  private static double bend(List<ErrorCurve.Point> branch, int middle) {
    if (middle == 0 || middle == branch.size() - 1) {
      return 0;
    }
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
