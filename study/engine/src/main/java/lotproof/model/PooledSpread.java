package lotproof.model;

import java.util.Map;
import lotproof.study.Assumed;
import lotproof.study.CalibrationLevel;

/** What a plan may take to be true, from estimated variances. */
public final class PooledSpread {
  /** Share of the total that repeats get where none were measured. */
  private static final double LEAST_REPEAT_SHARE = 1e-3;

  private PooledSpread() {}

  /**
   * Sums the variances for cells, boards, pairing and repeats. Kits whose cells and boards are not
   * resolved, and a residual where no unit is resolved, count as cells.
   *
   * @param origin where they come from, in words
   * @param level the calibration level of the errors
   * @param mean mean error of all kits, g
   * @param variances estimated variance of each role, g²
   */
  public static Assumed.AtLevel of(
      String origin, CalibrationLevel level, double mean, Map<Role, Double> variances) {
    double cellLot = variances.getOrDefault(Role.CELL_LOT, 0.0);
    double boardLot = variances.getOrDefault(Role.BOARD_LOT, 0.0);
    double residual = variances.getOrDefault(Role.RESIDUAL, 0.0);
    boolean noUnits =
        !variances.containsKey(Role.CELL)
            && !variances.containsKey(Role.BOARD)
            && !variances.containsKey(Role.KIT);
    double cell =
        variances.getOrDefault(Role.CELL, 0.0)
            + variances.getOrDefault(Role.KIT, 0.0)
            + (noUnits ? residual : 0)
            + cellLot;
    double board = variances.getOrDefault(Role.BOARD, 0.0) + boardLot;
    double pairing = variances.getOrDefault(Role.PAIR, 0.0);
    double total = cell + board + pairing + residual;
    double repeat = Math.max(noUnits ? 0 : residual, LEAST_REPEAT_SHARE * total);
    return new Assumed.AtLevel(
        origin,
        level.label(),
        mean,
        Math.sqrt(cell),
        Math.sqrt(board),
        Math.sqrt(pairing),
        Math.sqrt(repeat),
        cell > 0 ? cellLot / cell : 0,
        board > 0 ? boardLot / board : 0);
  }
}
