package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import tech.tablesaw.aggregate.AggregateFunctions;
import tech.tablesaw.api.DoubleColumn;
import tech.tablesaw.api.StringColumn;
import tech.tablesaw.api.Table;

/**
 * Plain figures by lot, from the means of each unit's values, so that a unit measured often does
 * not weigh more.
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
    Table runs =
        Table.create(
            StringColumn.create("lot", lots),
            StringColumn.create("unit", units),
            DoubleColumn.create("value", values.array()));
    Table unitMeans = runs.summarize("value", AggregateFunctions.mean).by("lot", "unit");
    Table byLot =
        unitMeans
            .summarize(
                "Mean [value]",
                AggregateFunctions.count,
                AggregateFunctions.mean,
                AggregateFunctions.stdDev,
                AggregateFunctions.min,
                AggregateFunctions.max)
            .by("lot")
            .sortOn("lot");
    List<GroupSummary> summaries = new ArrayList<>();
    for (int row = 0; row < byLot.rowCount(); row++) {
      int count = (int) Math.round(number(byLot, row, 1));
      summaries.add(
          new GroupSummary(
              lot,
              byLot.stringColumn(0).get(row),
              count,
              number(byLot, row, 2),
              count < 2 ? 0 : number(byLot, row, 3),
              number(byLot, row, 4),
              number(byLot, row, 5)));
    }
    return summaries;
  }

  private static double number(Table table, int row, int column) {
    return table.numberColumn(column).getDouble(row);
  }
}
