package lotproof.plan.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;

/** Invented units at hand. */
public final class Invented {
  private Invented() {}

  /** Lots of cells and of boards with these numbers of units. */
  public static Units units(List<Integer> cells, List<Integer> boards) {
    return new Units(
        lots(UnitKind.CELL, "C", cells), lots(UnitKind.BOARD, "B", boards), Optional.empty());
  }

  /** So many equal lots of each kind. */
  public static Units units(int lots, int unitsPerLot) {
    List<Integer> sizes = IntStream.range(0, lots).mapToObj(i -> unitsPerLot).toList();
    return units(sizes, sizes);
  }

  private static List<Lot> lots(UnitKind kind, String letter, List<Integer> sizes) {
    List<Lot> lots = new ArrayList<>();
    for (int lot = 0; lot < sizes.size(); lot++) {
      String name = letter + (lot + 1);
      lots.add(
          new Lot(
              kind,
              name,
              IntStream.range(0, sizes.get(lot))
                  .mapToObj(i -> String.format(Locale.ROOT, "%s-%03d", name, i + 1))
                  .toList()));
    }
    return lots;
  }
}
