package lotproof.study;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The units of a study. Where units have an index, it counts them in the order of their lots.
 *
 * @param checkStandard the pair that watches the bench, if there is one; it belongs to no lot
 */
public record Units(
    List<Lot> cellLots, List<Lot> boardLots, Optional<Study.CheckStandard> checkStandard) {
  public Units {
    cellLots = List.copyOf(cellLots);
    boardLots = List.copyOf(boardLots);
    Require.distinct(
        Stream.concat(cellLots.stream(), boardLots.stream())
            .flatMap(lot -> lot.serials().stream())
            .toList(),
        "serials");
  }

  /**
   * These units, for a study to be planned with them.
   *
   * @throws IllegalArgumentException when they are too few to show a spread
   */
  public Units twoOrMore() {
    for (UnitKind kind : UnitKind.values()) {
      if (serials(kind).size() < 2) {
        throw new IllegalArgumentException(
            "a study needs two cells and two boards or more; a single unit shows no spread");
      }
    }
    return this;
  }

  /**
   * The same units and a reference cell and board, each the last of its kind and in a lot of its
   * own.
   *
   * @throws IllegalArgumentException when a reference is a unit of a lot
   */
  public Units with(Design.ReferencePartners partners) {
    return new Units(
        with(UnitKind.CELL, partners.cell()),
        with(UnitKind.BOARD, partners.board()),
        checkStandard);
  }

  private List<Lot> with(UnitKind kind, String serial) {
    if (serials(kind).contains(serial)) {
      throw new IllegalArgumentException(
          "the reference " + kind.key() + " " + serial + " belongs to a lot; name another one");
    }
    List<Lot> all = new ArrayList<>(lots(kind));
    all.add(new Lot(kind, "reference", List.of(serial)));
    return all;
  }

  /** Lots of one kind. */
  public List<Lot> lots(UnitKind kind) {
    return kind == UnitKind.CELL ? cellLots : boardLots;
  }

  /** Serials of all lots of one kind, by index. */
  public List<String> serials(UnitKind kind) {
    return lots(kind).stream().flatMap(lot -> lot.serials().stream()).toList();
  }

  /** Index of the lot of each unit. */
  public int[] lotOf(UnitKind kind) {
    List<Lot> lots = lots(kind);
    return lots.stream()
        .flatMapToInt(lot -> lot.serials().stream().mapToInt(serial -> lots.indexOf(lot)))
        .toArray();
  }

  /** Name of the lot by serial. */
  public Map<String, String> lotBySerial(UnitKind kind) {
    Map<String, String> lotOf = new HashMap<>();
    for (Lot lot : lots(kind)) {
      lot.serials().forEach(serial -> lotOf.put(serial, lot.name()));
    }
    return lotOf;
  }

  /** Whether a run with these units is one of the check standard: one of its units is enough. */
  public boolean isCheckStandard(String cell, String board) {
    return checkStandard
        .filter(check -> check.cell().equals(cell) || check.board().equals(board))
        .isPresent();
  }

  /**
   * Units that were made together.
   *
   * @param serials the serials of its units in the study, each once
   */
  public record Lot(UnitKind kind, String name, List<String> serials) {
    public Lot {
      Require.text(name, "lot name");
      serials = Require.distinct(serials, "serials of lot " + name);
    }
  }
}
