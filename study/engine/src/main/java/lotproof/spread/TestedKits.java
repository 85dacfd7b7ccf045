package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
    Map<String, Integer> boardIndex = new HashMap<>();
    for (int kit : kits) {
      kitsOfCell.computeIfAbsent(cells.get(kit), c -> new ArrayList<>()).add(kit);
      boardIndex.putIfAbsent(boards.get(kit), boardIndex.size());
    }
    int[] kitOfBoard = new int[boardIndex.size()];
    Arrays.fill(kitOfBoard, -1);
    for (List<Integer> options : kitsOfCell.values()) {
      augment(
          options,
          kitsOfCell,
          boardIndex,
          cells,
          boards,
          kitOfBoard,
          new boolean[kitOfBoard.length]);
    }
    return Arrays.stream(kitOfBoard).filter(kit -> kit >= 0).sorted().boxed().toList();
  }

  private static boolean augment(
      List<Integer> options,
      Map<String, List<Integer>> kitsOfCell,
      Map<String, Integer> boardIndex,
      List<String> cells,
      List<String> boards,
      int[] kitOfBoard,
      boolean[] visited) {
    for (int kit : options) {
      Integer board = boardIndex.get(boards.get(kit));
      if (board == null || visited[board]) {
        continue;
      }
      visited[board] = true;
      int holder = kitOfBoard[board];
      List<Integer> holderOptions =
          holder < 0 ? List.of() : kitsOfCell.getOrDefault(cells.get(holder), List.of());
      if (holder < 0
          || augment(holderOptions, kitsOfCell, boardIndex, cells, boards, kitOfBoard, visited)) {
        kitOfBoard[board] = kit;
        return true;
      }
    }
    return false;
  }
}
