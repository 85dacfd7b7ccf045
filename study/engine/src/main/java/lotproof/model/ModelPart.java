package lotproof.model;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.statistics.components.ComponentWeights;
import lotproof.study.ClaimRequest;

/**
 * Runs that one fit speaks of: all runs of kits, or those of the cells on a reference board, or
 * those of the boards on a reference cell.
 *
 * @param runs which of all runs, by index
 * @param labelled any values with the labels of these runs
 * @param weights how components enter what the claim is about
 */
public record ModelPart(
    List<Integer> runs, MeasuredValues labelled, FactorPlan plan, ComponentWeights weights) {
  public ModelPart {
    runs = List.copyOf(runs);
  }

  /** All runs. */
  public static ModelPart ofAll(
      MeasuredValues labelled, FactorPlan plan, ComponentWeights weights) {
    List<Integer> all = IntStream.range(0, labelled.values().size()).boxed().toList();
    return new ModelPart(all, labelled, plan, weights);
  }

  /** Some of the runs, by their place among all. */
  static double[] pick(double[] ofAllRuns, List<Integer> runs) {
    return runs.stream().mapToDouble(run -> ofAllRuns[run]).toArray();
  }

  /**
   * What each component of a fit stands for, in the order of the fit. The residual of units that
   * were measured once each holds their spread, so it stands for them.
   */
  public List<Role> roles() {
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
  public ModelPart withoutLots(ClaimRequest.Subject subject) {
    FactorPlan kept = plan.withoutLots();
    return new ModelPart(runs, labelled, kept, ClaimWeights.ofSubject(subject, kept));
  }

  /** Whether it has lots that are too few to bound how lots differ. */
  public boolean hasFewLots() {
    return plan.hasFewLots(labelled);
  }
}
