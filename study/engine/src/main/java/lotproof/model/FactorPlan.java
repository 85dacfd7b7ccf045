package lotproof.model;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.Observations.FixedColumn;
import lotproof.statistics.components.RandomFactor;
import lotproof.study.Design;

/**
 * Which random factors can be told apart with the values at hand, and why the others cannot.
 *
 * @param roles factors of the model, coarsest first, without the residual
 * @param residualTitle what the residual holds
 */
public record FactorPlan(List<Role> roles, String residualTitle, List<Note> notes) {
  /** Fewer repeats than this say next to nothing of pairing apart from bench; docs/method.md. */
  public static final int REPEATS_FOR_PAIRING = 10;

  /**
   * From this many lots on, the spread between lots is estimated well enough for the ordinary
   * wording.
   */
  public static final int LOTS_FOR_GENERAL_WORDING = 5;

  /**
   * Why a factor is not in the model.
   *
   * @param role the unit that it is about
   * @param count repeated runs, for pairing; else 0
   */
  public record Note(Kind kind, Role role, int count) {}

  /** Reasons why a factor is not in the model. */
  public enum Kind {
    ONE_UNIT,
    ONE_PARTNER_EACH,
    FEW_REPEATS,
    ONE_LOT,
    LOT_OF_ONE,
    NO_REPEAT
  }

  public FactorPlan {
    roles = List.copyOf(roles);
    notes = List.copyOf(notes);
  }

  /** The largest model that the values can carry. */
  public static FactorPlan of(MeasuredValues values) {
    List<Role> roles = new ArrayList<>();
    List<Note> notes = new ArrayList<>();
    boolean cells = addUnit(values, Role.CELL, roles, notes);
    boolean boards = addUnit(values, Role.BOARD, roles, notes);
    if (cells && boards && eachMetOneOnly(values)) {
      roles.clear();
      roles.add(Role.KIT);
      notes.add(new Note(Kind.ONE_PARTNER_EACH, Role.KIT, 0));
    } else if (cells && boards) {
      addPairing(values, roles, notes);
    }
    addLots(values, Role.CELL_LOT, Role.CELL, roles, notes);
    addLots(values, Role.BOARD_LOT, Role.BOARD, roles, notes);
    String residual = dropUnrepeated(values, roles, notes);
    Collections.sort(roles);
    return new FactorPlan(roles, residual, notes);
  }

  /** The same model without its lots: it speaks of these lots only. */
  public FactorPlan withoutLots() {
    List<Role> kept =
        roles.stream().filter(r -> r != Role.CELL_LOT && r != Role.BOARD_LOT).toList();
    return new FactorPlan(kept, residualTitle, notes);
  }

  /** Whether the model has lots of some kind. */
  public boolean hasLots() {
    return roles.contains(Role.CELL_LOT) || roles.contains(Role.BOARD_LOT);
  }

  /** Whether the model has lots of some kind that are too few to bound how lots differ. */
  public boolean hasFewLots(MeasuredValues values) {
    return roles.stream()
        .filter(role -> role == Role.CELL_LOT || role == Role.BOARD_LOT)
        .anyMatch(lot -> levels(values, lot) < LOTS_FOR_GENERAL_WORDING);
  }

  /** The same model with pairing left to the residual, as the review of single runs needs it. */
  public FactorPlan withoutPairing() {
    return new FactorPlan(
        roles.stream().filter(role -> role != Role.PAIR).toList(), residualTitle, notes);
  }

  /** The values with this plan's factors and their known influences. */
  public Observations observations(MeasuredValues values) {
    List<FixedColumn> columns =
        values.influences().stream()
            .flatMap(influence -> influence.columns().stream())
            .map(KnownInfluence.Column::column)
            .toList();
    return new Observations(values.array(), factors(values), columns);
  }

  /** Fits this plan's model by REML. */
  public FitOutcome fit(MeasuredValues values) {
    return fit(values, FitOptions.REML);
  }

  /** The same with options, such as a fit of nearly the same values. */
  public FitOutcome fit(MeasuredValues values, FitOptions options) {
    return ComponentsFitter.fit(observations(values), options);
  }

  /** This plan's factors, indexed by the labels of the values. */
  public List<RandomFactor> factors(MeasuredValues values) {
    return roles.stream()
        .map(role -> RandomFactor.of(role.component(), labels(values, role)))
        .toList();
  }

  /** The label of each value for a role that is known. */
  public static List<String> labels(MeasuredValues values, Role role) {
    return switch (role) {
      case PAIR, KIT -> pairLabels(values);
      default -> values.labelsOf(role).orElseThrow();
    };
  }

  private static List<String> pairLabels(MeasuredValues values) {
    List<String> cells = values.labelsOf(Role.CELL).orElseThrow();
    List<String> boards = values.labelsOf(Role.BOARD).orElseThrow();
    List<String> pairs = new ArrayList<>();
    for (int i = 0; i < cells.size(); i++) {
      pairs.add(Design.pairName(cells.get(i), boards.get(i)));
    }
    return pairs;
  }

  private static boolean addUnit(
      MeasuredValues values, Role role, List<Role> roles, List<Note> notes) {
    int levels = values.levels(role);
    if (levels >= 2) {
      roles.add(role);
      return true;
    }
    if (levels == 1) {
      notes.add(new Note(Kind.ONE_UNIT, role, 0));
    }
    return false;
  }

  private static void addPairing(MeasuredValues values, List<Role> roles, List<Note> notes) {
    int pairs = levels(values, Role.PAIR);
    int repeats = values.values().size() - pairs;
    if (repeats >= REPEATS_FOR_PAIRING && pairs > 2) {
      roles.add(Role.PAIR);
    } else {
      notes.add(new Note(Kind.FEW_REPEATS, Role.PAIR, repeats));
    }
  }

  private static void addLots(
      MeasuredValues values, Role lot, Role unit, List<Role> roles, List<Note> notes) {
    int lots = values.levels(lot);
    if (lots == 0) {
      return;
    }
    if (lots == 1) {
      notes.add(new Note(Kind.ONE_LOT, unit, 0));
    } else if (lots == values.levels(unit)) {
      notes.add(new Note(Kind.LOT_OF_ONE, unit, 0));
    } else {
      roles.add(lot);
    }
  }

  /** A factor with a level for every value is the residual itself. */
  private static String dropUnrepeated(MeasuredValues values, List<Role> roles, List<Note> notes) {
    String residual = Role.RESIDUAL.title();
    if (!roles.contains(Role.PAIR) && roles.contains(Role.CELL) && roles.contains(Role.BOARD)) {
      residual = "Pairing, bench and repeat";
    }
    for (Role role : List.of(Role.KIT, Role.CELL, Role.BOARD)) {
      boolean everyValue = roles.contains(role) && levels(values, role) == values.values().size();
      if (everyValue) {
        roles.remove(role);
        residual = role.title() + ", bench included";
        notes.add(new Note(Kind.NO_REPEAT, role, 0));
      }
    }
    return residual;
  }

  private static boolean eachMetOneOnly(MeasuredValues values) {
    int pairs = levels(values, Role.PAIR);
    return pairs == values.levels(Role.CELL) && pairs == values.levels(Role.BOARD);
  }

  /** Number of levels of a factor; for the residual the number of values. */
  public static int levels(MeasuredValues values, Role role) {
    return role == Role.RESIDUAL
        ? values.values().size()
        : (int) labels(values, role).stream().distinct().count();
  }
}
