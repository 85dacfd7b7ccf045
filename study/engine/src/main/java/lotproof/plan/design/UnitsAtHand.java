package lotproof.plan.design;

import java.util.ArrayList;
import java.util.List;
import lotproof.study.Design;
import lotproof.study.Lot;
import lotproof.study.UnitKind;

/**
 * The units that a study can use, by index in the order of their lots.
 *
 * @param cellLots lots of cells
 * @param boardLots lots of boards
 */
public record UnitsAtHand(List<Lot> cellLots, List<Lot> boardLots) {
  public UnitsAtHand {
    cellLots = List.copyOf(cellLots);
    boardLots = List.copyOf(boardLots);
    for (List<Lot> lots : List.of(cellLots, boardLots)) {
      if (lots.stream().mapToInt(lot -> lot.serials().size()).sum() < 2) {
        throw new IllegalArgumentException(
            "a study needs two cells and two boards or more; a single unit shows no spread");
      }
    }
  }

  /**
   * The same units and a reference cell and board, each the last of its kind and in a lot of its
   * own.
   */
  public UnitsAtHand with(Design.ReferencePartners partners) {
    return new UnitsAtHand(
        with(cellLots, UnitKind.CELL, partners.cell()),
        with(boardLots, UnitKind.BOARD, partners.board()));
  }

  private static List<Lot> with(List<Lot> lots, UnitKind kind, String serial) {
    if (lots.stream().anyMatch(lot -> lot.serials().contains(serial))) {
      throw new IllegalArgumentException(
          "the reference " + kind.word() + " " + serial + " belongs to a lot; name another one");
    }
    List<Lot> all = new ArrayList<>(lots);
    all.add(new Lot(kind, "reference", List.of(serial)));
    return all;
  }

  /** Lots of one kind. */
  public List<Lot> lots(UnitKind kind) {
    return kind == UnitKind.CELL ? cellLots : boardLots;
  }

  /** Serials by index. */
  public List<String> serials(UnitKind kind) {
    List<String> serials = new ArrayList<>();
    lots(kind).forEach(lot -> serials.addAll(lot.serials()));
    return serials;
  }

  /** Index of the lot of each unit. */
  public int[] lotOf(UnitKind kind) {
    List<Lot> lots = lots(kind);
    int[] lotOf = new int[serials(kind).size()];
    int at = 0;
    for (int lot = 0; lot < lots.size(); lot++) {
      for (int unit = 0; unit < lots.get(lot).serials().size(); unit++) {
        lotOf[at++] = lot;
      }
    }
    return lotOf;
  }

  /** How many units there are of the kind of which there are fewer. */
  public int fewer() {
    return Math.min(serials(UnitKind.CELL).size(), serials(UnitKind.BOARD).size());
  }

  /** How many units there are of the kind of which there are more. */
  public int more() {
    return Math.max(serials(UnitKind.CELL).size(), serials(UnitKind.BOARD).size());
  }
}
