package lotproof.spread;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;

/**
 * Which kits (a cell with a board) were tested, and how many of them share no unit.
 *
 * <p>Kits that share no unit are independent draws if units are, so the smallest and largest value
 * over all tested kits give distribution-free statements with the confidence of n = the largest
 * number of such kits. That number is the size of a maximum matching of the cells with the boards,
 * found by augmenting paths (Kuhn 1955; Berge 1957).
 *
 * @param first index of the first value of each kit, in order of appearance; a repeat does not
 *     count again
 * @param disjoint indices of a largest set of kits that share no unit, ascending
 */
public record TestedKits(List<Integer> first, List<Integer> disjoint) {
  public TestedKits {
    first = List.copyOf(first);
    disjoint = List.copyOf(disjoint);
  }

  /**
   * Kits of the values; where cell or board are not known each unit, or failing that each value, is
   * a kit.
   */
  public static TestedKits of(MeasuredValues values) {
    Optional<List<String>> cells = values.labelsOf(Role.CELL);
    Optional<List<String>> boards = values.labelsOf(Role.BOARD);
    int n = values.values().size();
    Map<List<String>, Integer> firstOf = new LinkedHashMap<>();
    for (int i = 0; i < n; i++) {
      String cell = cells.isPresent() ? cells.get().get(i) : "";
      String board = boards.isPresent() ? boards.get().get(i) : "";
      boolean unnamed = cells.isEmpty() && boards.isEmpty();
      List<String> kit = unnamed ? List.of(Integer.toString(i)) : List.of(cell, board);
      firstOf.putIfAbsent(kit, i);
    }
    List<Integer> first = List.copyOf(firstOf.values());
    if (cells.isEmpty() || boards.isEmpty()) {
      return new TestedKits(first, first);
    }
    return new TestedKits(first, largestMatching(first, cells.get(), boards.get()));
  }

  private static List<Integer> largestMatching(
      List<Integer> kits, List<String> cells, List<String> boards) {
    Map<String, List<Integer>> kitsOfCell = new LinkedHashMap<>();
    for (int kit : kits) {
      kitsOfCell.computeIfAbsent(cells.get(kit), c -> new ArrayList<>()).add(kit);
    }
    Map<String, Integer> kitOfBoard = new HashMap<>();
    for (List<Integer> options : kitsOfCell.values()) {
      augment(options, kitsOfCell, cells, boards, kitOfBoard, new HashSet<>());
    }
    return kitOfBoard.values().stream().sorted().toList();
  }

  private static boolean augment(
      List<Integer> options,
      Map<String, List<Integer>> kitsOfCell,
      List<String> cells,
      List<String> boards,
      Map<String, Integer> kitOfBoard,
      Set<String> visited) {
    for (int kit : options) {
      String board = boards.get(kit);
      if (!visited.add(board)) {
        continue;
      }
      Integer holder = kitOfBoard.get(board);
      if (holder == null
          || augment(
              kitsOfCell.getOrDefault(cells.get(holder), List.of()),
              kitsOfCell,
              cells,
              boards,
              kitOfBoard,
              visited)) {
        kitOfBoard.put(board, kit);
        return true;
      }
    }
    return false;
  }
}
