package lotproof.plan.rehearse;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lotproof.statistics.components.FoldedNormal;
import lotproof.statistics.components.SymmetricRoots;
import lotproof.study.AssumedSpread;

/**
 * What is taken to be true of the error curves of all kits: their mean and, for each source, how
 * far it makes them differ, all normal.
 */
public final class AssumedCurves {
  /** As a share of the total variance: a bench without any spread cannot be rehearsed. */
  private static final double LEAST_REPEAT_SHARE = 1e-6;

  /** Where errors come from. */
  public enum Source {
    CELL_LOT,
    BOARD_LOT,
    CELL,
    BOARD,
    PAIRING,
    REPEAT
  }

  private final String origin;
  private final double[] meansGrams;
  private final Map<Source, double[][]> covariances = new EnumMap<>(Source.class);
  private final Map<Source, List<double[]>> roots = new EnumMap<>(Source.class);

  /**
   * Curves over the points of a run.
   *
   * @param origin where the numbers come from, in words
   * @param meansGrams mean error of all kits at each point, g
   * @param covariances for each source the covariance over the points, g²; a source that is not
   *     named does nothing
   */
  public AssumedCurves(String origin, double[] meansGrams, Map<Source, double[][]> covariances) {
    if (meansGrams.length == 0) {
      throw new IllegalArgumentException("curves must have at least one point");
    }
    this.origin = origin;
    this.meansGrams = meansGrams.clone();
    for (Source source : Source.values()) {
      double[][] given = covariances.get(source);
      double[][] matrix = given == null ? new double[points()][points()] : copy(given);
      if (matrix.length != points() || matrix[0].length != points()) {
        throw new IllegalArgumentException(
            "covariance of " + source + " must be square with " + points() + " rows");
      }
      this.covariances.put(source, matrix);
    }
    double[][] repeat = matrix(Source.REPEAT);
    for (int x = 0; x < points(); x++) {
      repeat[x][x] = Math.max(repeat[x][x], LEAST_REPEAT_SHARE * variance(x));
    }
    this.covariances.forEach((source, matrix) -> roots.put(source, SymmetricRoots.of(matrix)));
  }

  /** The error at one load alone; errors at the other loads are taken to follow it. */
  public static AssumedCurves atOneLoad(AssumedSpread spread) {
    return new AssumedCurves(
        spread.origin(),
        new double[] {spread.meanGrams()},
        Map.of(
            Source.CELL_LOT, one(spread.cellLotVariance()),
            Source.BOARD_LOT, one(spread.boardLotVariance()),
            Source.CELL, one(spread.cellVariance()),
            Source.BOARD, one(spread.boardVariance()),
            Source.PAIRING, one(spread.pairingVariance()),
            Source.REPEAT, one(spread.repeatVariance())));
  }

  private static double[][] one(double variance) {
    return new double[][] {{variance}};
  }

  private static double[][] copy(double[][] matrix) {
    double[][] result = new double[matrix.length][];
    for (int i = 0; i < result.length; i++) {
      result[i] = matrix[i].clone();
    }
    return result;
  }

  private double[][] matrix(Source source) {
    return java.util.Objects.requireNonNull(covariances.get(source));
  }

  private double variance(int point) {
    double sum = 0;
    for (double[][] matrix : covariances.values()) {
      sum += matrix[point][point];
    }
    return sum;
  }

  /** Number of points. */
  public int points() {
    return meansGrams.length;
  }

  double[] meansGrams() {
    return meansGrams.clone();
  }

  /** Vectors whose outer products add up to the covariance of a source. */
  List<double[]> roots(Source source) {
    return java.util.Objects.requireNonNull(roots.get(source));
  }

  /** Adds the covariance of a source. */
  void add(Source source, double[][] sum) {
    double[][] matrix = matrix(source);
    for (int i = 0; i < sum.length; i++) {
      for (int j = 0; j < sum.length; j++) {
        sum[i][j] += matrix[i][j];
      }
    }
  }

  /** The point at which the stated content of kits needs most room. */
  int widest(double content) {
    int widest = 0;
    double most = -1;
    for (int x = 0; x < points(); x++) {
      double needs = FoldedNormal.halfWidth(meansGrams[x], Math.sqrt(variance(x)), content);
      if (needs > most) {
        most = needs;
        widest = x;
      }
    }
    return widest;
  }

  /** The spread at one point. */
  public AssumedSpread at(int point) {
    double cellLot = matrix(Source.CELL_LOT)[point][point];
    double boardLot = matrix(Source.BOARD_LOT)[point][point];
    double cell = cellLot + matrix(Source.CELL)[point][point];
    double board = boardLot + matrix(Source.BOARD)[point][point];
    return new AssumedSpread(
        origin,
        meansGrams[point],
        Math.sqrt(cell),
        Math.sqrt(board),
        Math.sqrt(matrix(Source.PAIRING)[point][point]),
        Math.sqrt(matrix(Source.REPEAT)[point][point]),
        cell > 0 ? cellLot / cell : 0,
        board > 0 ? boardLot / board : 0);
  }
}
