package lotproof.app;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lotproof.gather.ResultTable;
import lotproof.gather.SerialsOfLots;
import lotproof.model.Role;
import lotproof.study.DataIssue;

/** Units and lots of a table of results. */
final class UnitColumns {
  private static final Map<Role, Role> LOT_OF =
      Map.of(Role.CELL, Role.CELL_LOT, Role.BOARD, Role.BOARD_LOT);

  private UnitColumns() {}

  /**
   * The labels of each role, serials named by their lots where they start again in every lot.
   *
   * @param columns the header of each role's column
   * @param option what says that serials start again
   */
  static Map<Role, List<String>> labels(
      String file,
      ResultTable.Outcome.Found found,
      Map<Role, String> columns,
      SerialRule serials,
      String option) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    columns.forEach(
        (role, column) -> labels.put(role, found.labels().getOrDefault(column, List.of())));
    List<DataIssue> questions = new ArrayList<>();
    int beside = 0;
    for (Role unit : List.of(Role.CELL, Role.BOARD)) {
      Role lot = LOT_OF.getOrDefault(unit, unit);
      List<String> names = labels.getOrDefault(unit, List.of());
      List<String> lots = labels.getOrDefault(lot, List.of());
      if (names.isEmpty() || lots.isEmpty()) {
        continue;
      }
      beside++;
      if (serials == SerialRule.PER_LOT) {
        labels.put(unit, SerialsOfLots.perLot(names, lots));
      } else {
        SerialsOfLots.question(
                file, found, columns.getOrDefault(unit, ""), columns.getOrDefault(lot, ""), option)
            .ifPresent(questions::add);
      }
    }
    if (!questions.isEmpty()) {
      throw new UnusableException(questions);
    }
    if (serials == SerialRule.PER_LOT && beside == 0) {
      throw new UnusableException(
          option + " needs a column of lots beside the serials; name it with its option");
    }
    return labels;
  }
}
