package lotproof.claim.upkeep;

import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lotproof.model.FactorPlan;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;

/**
 * What a study knows of how well a test of one item repeats.
 *
 * <p>The residual of the study's model is that repeatability where units are told from it, with the
 * degrees of freedom that they leave of the runs: where pairing is in the model (or pairs are the
 * units) one for each run of a pair beyond its first; else runs less the rank of cells and boards,
 * which is their number less one for each group of units that is joined by runs. Then the residual
 * holds pairing too and is an upper limit. A construction: fewer than {@link #NEEDED} degrees of
 * freedom count as not known, as for pairing in the model.
 *
 * @param degreesOfFreedom of the residual; 0 where it holds the spread of units
 * @param pairingIncluded whether it holds what a cell and a board do to each other
 */
public record Repeatability(int degreesOfFreedom, boolean pairingIncluded) {
  /** Fewer say next to nothing. */
  public static final int NEEDED = FactorPlan.REPEATS_FOR_PAIRING;

  /** Sources without which the residual holds the spread of units. */
  static final Set<Role> UNITS = Set.of(Role.KIT, Role.CELL, Role.BOARD);

  /** Whether it is known. */
  public boolean isKnown() {
    return degreesOfFreedom >= NEEDED;
  }

  /**
   * That of some runs.
   *
   * @param roles sources of the model that the residual is of
   */
  static Repeatability of(List<ErrorCurve> curves, Set<Role> roles) {
    if (Collections.disjoint(roles, UNITS)) {
      return new Repeatability(0, true);
    }
    boolean pairingIncluded =
        roles.containsAll(List.of(Role.CELL, Role.BOARD)) && !roles.contains(Role.PAIR);
    int units = pairingIncluded ? rank(curves) : pairs(curves);
    return new Repeatability(curves.size() - units, pairingIncluded);
  }

  private static int pairs(List<ErrorCurve> curves) {
    return (int) curves.stream().map(ErrorCurve::pair).distinct().count();
  }

  /** Rank of the effects of cells and boards: one for each run that joins units not yet joined. */
  private static int rank(List<ErrorCurve> curves) {
    Map<String, String> joinedTo = new HashMap<>();
    int rank = 0;
    for (ErrorCurve curve : curves) {
      String one = group(joinedTo, "cell " + curve.cell());
      String other = group(joinedTo, "board " + curve.board());
      if (!one.equals(other)) {
        joinedTo.put(one, other);
        rank++;
      }
    }
    return rank;
  }

  /** The unit that stands for all that a unit is joined with. */
  private static String group(Map<String, String> joinedTo, String unit) {
    String last = unit;
    for (String next = joinedTo.get(last); next != null; next = joinedTo.get(last)) {
      last = next;
    }
    if (!last.equals(unit)) {
      joinedTo.put(unit, last);
    }
    return last;
  }
}
