package lotproof.plan.rehearse;

import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.IntStream;
import lotproof.model.Role;
import lotproof.statistics.SymmetricRoots;
import lotproof.study.Assumed;
import lotproof.study.CalibrationLevel;
import lotproof.study.Kit;

/**
 * What is taken to be true of the error curves of all kits: their mean and, for each source, how
 * far it makes them differ, all normal.
 */
public final class AssumedCurves {
  /** As a share of the total variance: a bench without any spread cannot be rehearsed. */
  private static final double LEAST_REPEAT_SHARE = 1e-6;

  /** Where errors come from. */
  static final List<Role> SOURCES =
      List.of(Role.CELL_LOT, Role.BOARD_LOT, Role.CELL, Role.BOARD, Role.PAIR, Role.RESIDUAL);

  private final double[] meansGrams;
  private final Map<Role, double[][]> covariances = new EnumMap<>(Role.class);
  private final Map<Role, List<double[]>> roots = new EnumMap<>(Role.class);

  /**
   * Curves over the points of a run. Kits whose cells and boards were not told apart count as
   * cells; so does the residual where no units were told from the bench.
   *
   * @param meansGrams mean error of all kits at each point, g
   * @param given for each source the covariance over the points, g²; a source that is not named
   *     does nothing
   */
  public AssumedCurves(double[] meansGrams, Map<Role, double[][]> given) {
    if (meansGrams.length == 0) {
      throw new IllegalArgumentException("curves must have at least one point");
    }
    this.meansGrams = meansGrams.clone();
    SOURCES.forEach(source -> covariances.put(source, new double[points()][points()]));
    boolean noUnits =
        given.containsKey(Role.RESIDUAL)
            && List.of(Role.CELL, Role.BOARD, Role.KIT).stream().noneMatch(given::containsKey);
    given.forEach(
        (role, matrix) -> {
          if (matrix.length != points() || matrix[0].length != points()) {
            throw new IllegalArgumentException(
                "covariance of " + role + " must be square with " + points() + " rows");
          }
          boolean ofKits = role == Role.KIT || (noUnits && role == Role.RESIDUAL);
          add(matrix, covariance(ofKits ? Role.CELL : role));
        });
    double[][] repeat = covariance(Role.RESIDUAL);
    for (int x = 0; x < points(); x++) {
      repeat[x][x] = Math.max(repeat[x][x], LEAST_REPEAT_SHARE * variance(x));
    }
    covariances.forEach((source, matrix) -> roots.put(source, SymmetricRoots.of(matrix)));
  }

  /**
   * What an assumption says of the errors at a level: of the spread at one load that load alone, of
   * characteristics the whole curve.
   *
   * @param loadsKilograms loads of a run, rising and falling
   */
  public static AssumedCurves of(
      Assumed assumed, CalibrationLevel level, List<Double> loadsKilograms, Kit kit) {
    return assumed instanceof Assumed.DataSheet characteristics
        ? new CarriedErrors(level, loadsKilograms, kit.capacityKilograms()).of(characteristics)
        : atOneLoad((Assumed.AtLevel) assumed);
  }

  /** What the same assumption says of the spread at the point where errors are widest. */
  public Assumed.AtLevel atWorst(Assumed assumed, CalibrationLevel level) {
    if (assumed instanceof Assumed.AtLevel spread) {
      return spread;
    }
    int worst =
        IntStream.range(0, points())
            .boxed()
            .max(Comparator.comparingDouble(this::variance))
            .orElseThrow();
    double cells = variance(Role.CELL_LOT, worst) + variance(Role.CELL, worst);
    double boards = variance(Role.BOARD_LOT, worst) + variance(Role.BOARD, worst);
    return new Assumed.AtLevel(
        assumed.origin(),
        level.label(),
        meansGrams[worst],
        Math.sqrt(cells),
        Math.sqrt(boards),
        Math.sqrt(variance(Role.PAIR, worst)),
        Math.sqrt(variance(Role.RESIDUAL, worst)),
        cells > 0 ? variance(Role.CELL_LOT, worst) / cells : 0,
        boards > 0 ? variance(Role.BOARD_LOT, worst) / boards : 0);
  }

  /** The error at one load alone; errors at the other loads are taken to follow it. */
  public static AssumedCurves atOneLoad(Assumed.AtLevel spread) {
    return new AssumedCurves(
        new double[] {spread.meanGrams()},
        Map.of(
            Role.CELL_LOT, one(spread.cellLotVariance()),
            Role.BOARD_LOT, one(spread.boardLotVariance()),
            Role.CELL, one(spread.cellVariance()),
            Role.BOARD, one(spread.boardVariance()),
            Role.PAIR, one(spread.pairingVariance()),
            Role.RESIDUAL, one(spread.repeatVariance())));
  }

  private static double[][] one(double variance) {
    return new double[][] {{variance}};
  }

  private static void add(double[][] matrix, double[][] sum) {
    for (int i = 0; i < sum.length; i++) {
      for (int j = 0; j < sum.length; j++) {
        sum[i][j] += matrix[i][j];
      }
    }
  }

  private double[][] covariance(Role source) {
    return Objects.requireNonNull(covariances.get(source));
  }

  private double variance(int point) {
    return SOURCES.stream().mapToDouble(source -> variance(source, point)).sum();
  }

  /** Variance of one source at a point, g². */
  double variance(Role source, int point) {
    return covariance(source)[point][point];
  }

  /** Number of points. */
  public int points() {
    return meansGrams.length;
  }

  double[] meansGrams() {
    return meansGrams.clone();
  }

  /** Vectors whose outer products add up to the covariance of a source. */
  List<double[]> roots(Role source) {
    return Objects.requireNonNull(roots.get(source));
  }

  /** Adds the covariance of a source. */
  void add(Role source, double[][] sum) {
    add(covariance(source), sum);
  }
}
