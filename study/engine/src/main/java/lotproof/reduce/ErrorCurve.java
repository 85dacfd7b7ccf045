package lotproof.reduce;

import java.util.List;
import java.util.Optional;
import lotproof.study.ClaimForm;

/**
 * Error of reading along one run, at one calibration level.
 *
 * @param run name of the run it was computed from
 * @param cell serial of the cell
 * @param board serial of the board
 * @param points errors in the order of the run
 */
public record ErrorCurve(String run, String cell, String board, List<Point> points)
    implements UnitPair {

  /**
   * One point of the curve.
   *
   * @param loadKilograms the planned load that the mass stands for
   * @param direction rising or falling
   * @param errorGrams indicated minus the mass that lay on the cell; 0 at the tared zero
   */
  public record Point(double loadKilograms, Direction direction, double errorGrams) {}

  public ErrorCurve {
    points = List.copyOf(points);
  }

  /** The first point at a load, rising or falling. */
  public Optional<Point> at(double loadKilograms, Direction direction) {
    return points.stream()
        .filter(p -> p.loadKilograms() == loadKilograms && p.direction() == direction)
        .findFirst();
  }

  /** Largest size of error over the run, in grams. */
  public double largestGrams() {
    return points.stream().mapToDouble(p -> Math.abs(p.errorGrams())).max().orElse(0);
  }

  /** Largest error over the run that counts in a claim of that form, in grams; at least 0. */
  public double largestGrams(ClaimForm form) {
    return points.stream()
        .mapToDouble(p -> form.counted(form.inForm(p.errorGrams(), p.loadKilograms())))
        .reduce(0, Math::max);
  }
}
