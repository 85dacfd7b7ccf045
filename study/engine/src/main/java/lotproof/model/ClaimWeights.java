package lotproof.model;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentWeights;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/** Which components the subject of a claim has, and what a declared spread of lots adds. */
public final class ClaimWeights {
  private ClaimWeights() {}

  /** Whether runs tell the units that a claim is for from their partners. */
  public static boolean isApart(
      ClaimRequest.Subject subject, FactorPlan plan, MeasuredValues values) {
    Role own = subject == ClaimRequest.Subject.CELL ? Role.CELL : Role.BOARD;
    Role partner = subject == ClaimRequest.Subject.CELL ? Role.BOARD : Role.CELL;
    return subject == ClaimRequest.Subject.KIT
        || values.levels(partner) == 1
        || (plan.roles().contains(own) && plan.roles().contains(partner));
  }

  /** Weights without any declared spread of lots. */
  public static ComponentWeights ofSubject(ClaimRequest.Subject subject, FactorPlan plan) {
    Set<Role> others =
        switch (subject) {
          case KIT -> Set.of();
          case CELL -> Set.of(Role.BOARD, Role.BOARD_LOT);
          case BOARD -> Set.of(Role.CELL, Role.CELL_LOT);
        };
    return ComponentWeights.without(
        plan.roles().stream()
            .filter(others::contains)
            .map(Role::component)
            .collect(Collectors.toSet()));
  }

  /**
   * Weights of the study's claim. With a declared ratio r of the spread between lots to that
   * within, and one lot of a kind: the variance of its units counts 1 + r^2 times, and the mean is
   * uncertain by r^2 times that variance more, because the one lot's own mean is one draw of lots.
   */
  public static ComponentWeights of(Study study, FactorPlan plan, MeasuredValues values) {
    ComponentWeights subject = ofSubject(study.claim().subject(), plan);
    OptionalDouble ratio = study.claim().assumedLotRatio();
    if (ratio.isEmpty()) {
      return subject;
    }
    double square = ratio.getAsDouble() * ratio.getAsDouble();
    Map<Component, Double> unit = new HashMap<>(subject.unit());
    Map<Component, Double> mean = new HashMap<>();
    boolean oneCellLot = values.levels(Role.CELL_LOT) == 1;
    boolean oneBoardLot = values.levels(Role.BOARD_LOT) == 1;
    for (Role role : unitRoles(plan)) {
      boolean one =
          switch (role) {
            case CELL -> oneCellLot;
            case BOARD -> oneBoardLot;
            default -> oneCellLot || oneBoardLot;
          };
      double has = subject.unit().getOrDefault(role.component(), 1.0);
      if (one && has > 0) {
        unit.put(role.component(), has * (1 + square));
        mean.put(role.component(), has * square);
      }
    }
    return new ComponentWeights(unit, mean);
  }

  /** Roles that hold the spread of units; the residual where each kit was measured once. */
  private static Set<Role> unitRoles(FactorPlan plan) {
    if (plan.roles().contains(Role.KIT)) {
      return Set.of(Role.KIT);
    }
    Set<Role> units = new HashSet<>(Set.of(Role.CELL, Role.BOARD));
    units.retainAll(plan.roles());
    return units.isEmpty() ? Set.of(Role.RESIDUAL) : units;
  }
}
