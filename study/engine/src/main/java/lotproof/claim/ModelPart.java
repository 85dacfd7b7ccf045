package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.statistics.components.ComponentWeights;

/**
 * Curves that one fit speaks of: all kits, or the cells on a reference board, or the boards on a
 * reference cell.
 *
 * @param judged the curves in the claim's form
 * @param labelled any values with the labels of the curves' runs
 * @param plan factors
 * @param weights how components enter what the claim is about
 */
record ModelPart(
    JudgedCurves judged, MeasuredValues labelled, FactorPlan plan, ComponentWeights weights) {

  /**
   * What each component of a fit stands for, in the order of the fit. The residual of units that
   * were measured once each holds their spread, so it stands for them.
   */
  List<Role> roles() {
    List<Role> roles = new ArrayList<>(plan.roles());
    roles.add(residual());
    return roles;
  }

  private Role residual() {
    boolean cells = labelled.levels(Role.CELL) > 1;
    boolean boards = labelled.levels(Role.BOARD) > 1;
    if (cells && !boards && !plan.roles().contains(Role.CELL)) {
      return Role.CELL;
    }
    return boards && !cells && !plan.roles().contains(Role.BOARD) ? Role.BOARD : Role.RESIDUAL;
  }

  /** Name of a component for people. */
  String title(int component) {
    return component < plan.roles().size()
        ? plan.roles().get(component).title()
        : plan.residualTitle();
  }

  /** The same without lots: it speaks of these lots only. */
  ModelPart withoutLots(ComponentWeights ofSubject) {
    return new ModelPart(judged, labelled, plan.withoutLots(), ofSubject);
  }

  /** Whether it has lots that are too few to bound how lots differ. */
  boolean hasFewLots() {
    return plan.hasFewLots(labelled);
  }
}
