package lotproof.statistics.components;

import java.util.Arrays;
import lotproof.statistics.Checks;
import org.apache.commons.math3.util.KthSelector;
import org.jspecify.annotations.Nullable;

/**
 * Drawn curves of future units, kept so that many questions are answered from the same draws: the
 * mean curve plus the inflation times drawn deviations.
 *
 * <p>With v(f) the largest error of a unit at inflation f and M the largest size of the mean curve,
 * |v(f) - (f/g) v(g)| is at most |1 - f/g| M, because m + f e = (f/g) (m + g e) + (1 - f/g) m. So
 * once a quantile is known at g, the same quantile at f needs the units near it only; the result is
 * that of all units, to the last digit.
 */
public final class FutureCurves {
  /** Covers the rounding of the bound. */
  private static final double SLACK = 1e-9;

  private final double[] means;
  private final double largestMean;

  /** One drawn unit after another, each over its points. */
  private final double[] deviations;

  /** The last quantile that was worked out from all units. */
  private volatile @Nullable Known known;

  FutureCurves(double[] means, double[] deviations) {
    this.means = means;
    this.largestMean = Arrays.stream(means).map(Math::abs).max().orElse(0);
    this.deviations = deviations;
  }

  /**
   * A quantile and the errors behind it.
   *
   * @param errors the largest error of each unit, in the order of the draws
   */
  @SuppressWarnings("ArrayRecordComponent") // never compared
  private record Known(
      double inflation, boolean sizes, int rank, double[] errors, double quantile) {}

  /**
   * The largest error of each drawn unit over its points, ascending.
   *
   * @param inflation factor for the deviations, above 0
   * @param sizes true: the largest size; false: the largest value, too low readings not counted
   */
  public double[] largest(double inflation, boolean sizes) {
    checkInflation(inflation);
    double[] largest = unordered(inflation, sizes);
    Arrays.sort(largest);
    return largest;
  }

  /**
   * The largest error that a share of the drawn units does not exceed: as {@link #quantile} of
   * {@link #largest}, without putting all in order.
   */
  public double largest(double inflation, boolean sizes, double content) {
    Checks.fraction(content, "content");
    checkInflation(inflation);
    int rank = rank(content, units());
    Known near = known;
    if (near != null && near.sizes() == sizes && near.rank() == rank) {
      return fromNear(near, inflation);
    }
    double[] largest = unordered(inflation, sizes);
    double quantile = new KthSelector().select(largest.clone(), null, rank);
    known = new Known(inflation, sizes, rank, largest, quantile);
    return quantile;
  }

  private double fromNear(Known near, double inflation) {
    double ratio = inflation / near.inflation();
    double off = 2 * Math.abs(1 - ratio) * largestMean / ratio;
    double slack = SLACK * (Math.abs(near.quantile()) + largestMean);
    double from = near.quantile() - off - slack;
    double to = near.quantile() + off + slack;
    double[] errors = near.errors();
    double[] candidates = new double[errors.length];
    int below = 0;
    int count = 0;
    for (int d = 0; d < errors.length; d++) {
      if (errors[d] < from) {
        below++;
      } else if (errors[d] <= to) {
        candidates[count++] = largest(d, inflation, near.sizes());
      }
    }
    double[] close = Arrays.copyOf(candidates, count);
    return new KthSelector().select(close, null, near.rank() - below);
  }

  private int units() {
    return deviations.length / means.length;
  }

  private static void checkInflation(double inflation) {
    if (!(inflation > 0 && inflation < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("inflation must be above 0 and finite, was " + inflation);
    }
  }

  private double[] unordered(double inflation, boolean sizes) {
    double[] largest = new double[units()];
    for (int d = 0; d < largest.length; d++) {
      largest[d] = largest(d, inflation, sizes);
    }
    return largest;
  }

  /** Largest error of one unit. */
  private double largest(int unit, double inflation, boolean sizes) {
    double[] mean = means;
    double[] deviation = deviations;
    int at = unit * mean.length;
    double most = sizes ? 0 : Double.NEGATIVE_INFINITY;
    for (double expected : mean) {
      double error = expected + inflation * deviation[at++];
      double counts = sizes && error < 0 ? -error : error;
      if (counts > most) {
        most = counts;
      }
    }
    return most;
  }

  private static int rank(double content, int count) {
    return Math.max(0, (int) Math.ceil(content * count) - 1);
  }

  /** The value of ascending ones that a share of them does not exceed. */
  public static double quantile(double[] ascending, double content) {
    Checks.fraction(content, "content");
    return ascending[rank(content, ascending.length)];
  }
}
