package lotproof.plan.rehearse;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToIntFunction;
import java.util.stream.Stream;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Layout.Meeting;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.study.UnitKind;

/**
 * The model that the analysis will choose for the runs of a plan, with the variances that are taken
 * to be true.
 *
 * @param labelled no values yet, with the labels of the runs
 */
record DesignModel(MeasuredValues labelled, FactorPlan plan) {

  /** The model of kits. */
  static DesignModel of(Layout layout) {
    MeasuredValues labelled = labelled(layout);
    return new DesignModel(labelled, FactorPlan.of(labelled));
  }

  DesignModel withoutLots() {
    return new DesignModel(labelled, plan.withoutLots());
  }

  /** The planned runs with their units and lots. */
  static MeasuredValues labelled(Layout layout) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    for (UnitKind kind : UnitKind.values()) {
      boolean cells = kind == UnitKind.CELL;
      ToIntFunction<Meeting> unit = cells ? Meeting::cell : Meeting::board;
      List<String> serials = layout.units().serials(kind);
      int[] lotOf = layout.units().lotOf(kind);
      List<Integer> units = layout.meetings().stream().map(unit::applyAsInt).toList();
      labels.put(cells ? Role.CELL : Role.BOARD, units.stream().map(serials::get).toList());
      labels.put(
          cells ? Role.CELL_LOT : Role.BOARD_LOT,
          units.stream().map(u -> Integer.toString(lotOf[u])).toList());
    }
    List<Double> nothing = layout.meetings().stream().map(meeting -> 0.0).toList();
    return new MeasuredValues("error", "Error of reading", "g", nothing, labels);
  }

  /**
   * Variances at a point in the order of the factors, the residual last. What the model cannot tell
   * apart falls into the next coarser unit or into the residual; lots of a kind of which there is
   * one belong to the mean.
   */
  double[] variances(AssumedCurves curves, int point) {
    Map<Role, Double> sums = new EnumMap<>(Role.class);
    for (Role source : AssumedCurves.SOURCES) {
      holder(source)
          .ifPresent(role -> sums.merge(role, curves.variance(source, point), Double::sum));
    }
    return components().stream().mapToDouble(role -> sums.getOrDefault(role, 0.0)).toArray();
  }

  /** Factors in the order of the model, the residual last. */
  List<Role> components() {
    return Stream.concat(plan.roles().stream(), Stream.of(Role.RESIDUAL)).toList();
  }

  /** Sources that cannot be told from a component. */
  List<Role> heldBy(Role component) {
    return AssumedCurves.SOURCES.stream()
        .filter(source -> source != component && holder(source).equals(Optional.of(component)))
        .toList();
  }

  /** Which component holds a source; none where all runs share it. */
  private Optional<Role> holder(Role source) {
    if (plan.roles().contains(source)) {
      return Optional.of(source);
    }
    return switch (source) {
      case CELL_LOT -> oneUnitEach(source, Role.CELL) ? holder(Role.CELL) : Optional.empty();
      case BOARD_LOT -> oneUnitEach(source, Role.BOARD) ? holder(Role.BOARD) : Optional.empty();
      case RESIDUAL -> Optional.of(source);
      case CELL, BOARD -> labelled.levels(source) > 1 ? Optional.of(coarser()) : Optional.empty();
      default -> Optional.of(coarser());
    };
  }

  private boolean oneUnitEach(Role lot, Role unit) {
    return labelled.levels(lot) > 1 && labelled.levels(lot) == labelled.levels(unit);
  }

  private Role coarser() {
    return plan.roles().contains(Role.KIT) ? Role.KIT : Role.RESIDUAL;
  }

  /** The fit that would hit the truth at a point, if the runs can tell the spreads at all. */
  Optional<ComponentsFit> expected(AssumedCurves curves, int point) {
    return ComponentsFitter.assumed(
                labelled.values().size(),
                plan.factors(labelled),
                variances(curves, point),
                curves.meansGrams()[point])
            instanceof ComponentsFit fit
        ? Optional.of(fit)
        : Optional.empty();
  }
}
