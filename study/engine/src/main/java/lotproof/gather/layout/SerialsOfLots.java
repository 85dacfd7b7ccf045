package lotproof.gather.layout;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.folder.text.UnitNames;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * Serials of a table of results beside the lots of their units. A unit belongs to one lot; a serial
 * that stands in two is two units, or a mistake, and which of the two is not guessed.
 */
public final class SerialsOfLots {
  private SerialsOfLots() {}

  /**
   * The question that serials in more than one lot raise; empty when there are none.
   *
   * @param file the file's name
   * @param table what was read of it
   * @param serials header of the column of serials
   * @param lots header of the column of lots
   * @param option what says that serials start again in every lot
   */
  public static Optional<DataIssue> question(
      String file, ResultTable table, String serials, String lots, String option) {
    List<String> serialOf = table.labels().getOrDefault(serials, List.of());
    List<String> lotOf = table.labels().getOrDefault(lots, List.of());
    Map<String, Map<String, Integer>> rowsOfLots = new LinkedHashMap<>();
    for (int i = 0; i < serialOf.size(); i++) {
      rowsOfLots
          .computeIfAbsent(serialOf.get(i), serial -> new LinkedHashMap<>())
          .putIfAbsent(lotOf.get(i), table.rows().get(i));
    }
    rowsOfLots.values().removeIf(lotsOfOne -> lotsOfOne.size() < 2);
    int more = rowsOfLots.size() - 1;
    return rowsOfLots.entrySet().stream()
        .findFirst()
        .map(
            first -> {
              String places =
                  first.getValue().entrySet().stream()
                      .map(lot -> "lot " + lot.getKey() + " (line " + lot.getValue() + ")")
                      .collect(Collectors.joining(", "));
              String others =
                  switch (more) {
                    case 0 -> "";
                    case 1 -> ", and 1 more serial does likewise";
                    default -> ", and " + more + " more serials do likewise";
                  };
              return DataIssue.error(
                  Code.AMBIGUOUS,
                  file,
                  List.copyOf(first.getValue().values()).get(1),
                  serials,
                  first.getKey(),
                  ("the serial stands in %s%s; a unit belongs to one lot: if serials start again in"
                          + " every lot, say %s; if a lot is wrong, correct it in the file")
                      .formatted(places, others, option));
            });
  }

  /** Names of units whose serials start again in every lot, row by row. */
  public static List<String> perLot(List<String> serials, List<String> lots) {
    return IntStream.range(0, serials.size())
        .mapToObj(i -> UnitNames.of(lots.get(i), serials.get(i)))
        .toList();
  }
}
