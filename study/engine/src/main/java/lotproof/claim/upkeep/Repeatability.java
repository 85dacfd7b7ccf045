package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
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

  /** Rank of the effects of cells and boards: of n units that runs join, n - 1 differ freely. */
  private static int rank(List<ErrorCurve> curves) {
    List<Set<String>> groups = new ArrayList<>();
    for (ErrorCurve curve : curves) {
      Set<String> joined = new HashSet<>(Set.of("cell " + curve.cell(), "board " + curve.board()));
      List<Set<String>> met =
          groups.stream().filter(group -> !Collections.disjoint(group, joined)).toList();
      met.forEach(joined::addAll);
      groups.removeAll(met);
      groups.add(joined);
    }
    return groups.stream().mapToInt(group -> group.size() - 1).sum();
  }
}
