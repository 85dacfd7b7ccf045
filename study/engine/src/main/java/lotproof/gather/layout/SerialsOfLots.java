package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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

  /** One row of each lot in which a serial stands. */
  private record InLots(String serial, Map<String, Integer> rowOfLot) {}

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
    Map<String, InLots> bySerial = new LinkedHashMap<>();
    for (int i = 0; i < serialOf.size(); i++) {
      bySerial
          .computeIfAbsent(serialOf.get(i), serial -> new InLots(serial, new LinkedHashMap<>()))
          .rowOfLot()
          .putIfAbsent(lotOf.get(i), table.rows().get(i));
    }
    List<InLots> several =
        bySerial.values().stream().filter(serial -> serial.rowOfLot().size() > 1).toList();
    if (several.isEmpty()) {
      return Optional.empty();
    }
    InLots first = several.get(0);
    List<String> places = new ArrayList<>();
    first.rowOfLot().forEach((lot, row) -> places.add("lot " + lot + " (line " + row + ")"));
    List<Integer> rows = List.copyOf(first.rowOfLot().values());
    String others = several.size() == 1 ? "" : ", and " + others(several.size() - 1) + " likewise";
    return Optional.of(
        DataIssue.error(
            Code.AMBIGUOUS,
            file,
            rows.get(1),
            serials,
            first.serial(),
            ("the serial stands in %s%s; a unit belongs to one lot: if serials start"
                    + " again in every lot, say %s; if a lot is wrong, correct it in the file")
                .formatted(String.join(", ", places), others, option)));
  }

  private static String others(int count) {
    return count == 1 ? "1 more serial does" : count + " more serials do";
  }

  /** Names of units whose serials start again in every lot, row by row. */
  public static List<String> perLot(List<String> serials, List<String> lots) {
    return IntStream.range(0, serials.size())
        .mapToObj(i -> UnitNames.of(lots.get(i), serials.get(i)))
        .toList();
  }
}
