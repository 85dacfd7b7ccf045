package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import tech.tablesaw.api.DoubleColumn;
import tech.tablesaw.api.StringColumn;
import tech.tablesaw.selection.Selection;

/**
 * Plain figures by lot, from the means of each unit's values, so that a unit measured often does
 * not weigh more. Works on columns: a whole table would first search the class path for readers.
 */
final class LotSummaries {
  private static final Map<Role, Role> UNIT_OF_LOT =
      Map.of(Role.CELL_LOT, Role.CELL, Role.BOARD_LOT, Role.BOARD);

  private LotSummaries() {}

  static List<GroupSummary> of(MeasuredValues values) {
    List<GroupSummary> summaries = new ArrayList<>();
    for (Role lot : List.of(Role.CELL_LOT, Role.BOARD_LOT)) {
      if (values.labelsOf(lot).isPresent()) {
        summaries.addAll(of(values, lot));
      }
    }
    return summaries;
  }

  private static List<GroupSummary> of(MeasuredValues values, Role lot) {
    List<String> lots = values.labelsOf(lot).orElseThrow();
    List<String> units = values.labelsOf(UNIT_OF_LOT.getOrDefault(lot, lot)).orElse(lots);
    StringColumn lotOf = StringColumn.create("lot", lots);
    StringColumn unitOf = StringColumn.create("unit", units);
    DoubleColumn value = DoubleColumn.create("value", values.array());
    List<GroupSummary> summaries = new ArrayList<>();
    for (String name : lots.stream().distinct().sorted().toList()) {
      Selection inLot = lotOf.isEqualTo(name);
      DoubleColumn means = unitMeans(unitOf.where(inLot), value.where(inLot));
      double sd = means.size() < 2 ? 0 : means.standardDeviation();
      summaries.add(
          new GroupSummary(lot, name, means.size(), means.mean(), sd, means.min(), means.max()));
    }
    return summaries;
  }

  private static DoubleColumn unitMeans(StringColumn unitOf, DoubleColumn value) {
    DoubleColumn means = DoubleColumn.create("mean");
    for (String unit : unitOf.unique()) {
      means.append(value.where(unitOf.isEqualTo(unit)).mean());
    }
    return means;
  }
}
