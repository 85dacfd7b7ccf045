package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.CharacteristicSpread.LotSummary;
import tech.tablesaw.api.DoubleColumn;
import tech.tablesaw.api.StringColumn;
import tech.tablesaw.selection.Selection;

/**
 * Plain figures by lot, from the means of each unit's values, so that a unit measured often does
 * not weigh more. Where no serials are known each value is a unit of its own.
 */
final class LotSummaries {
  private LotSummaries() {}

  static List<LotSummary> of(MeasuredValues values) {
    List<LotSummary> summaries = new ArrayList<>(of(values, Role.CELL_LOT, Role.CELL));
    summaries.addAll(of(values, Role.BOARD_LOT, Role.BOARD));
    return summaries;
  }

  private static List<LotSummary> of(MeasuredValues values, Role lot, Role unit) {
    List<String> lots = values.labelsOf(lot).orElse(List.of());
    StringColumn lotOf = StringColumn.create("lot", lots);
    // without serials each value is a unit
    List<String> rows = IntStream.range(0, lots.size()).mapToObj(Integer::toString).toList();
    StringColumn unitOf = StringColumn.create("unit", values.labelsOf(unit).orElse(rows));
    DoubleColumn value = DoubleColumn.create("value", values.array());
    return lots.stream()
        .distinct()
        .sorted()
        .map(
            name -> {
              Selection inLot = lotOf.isEqualTo(name);
              DoubleColumn m = unitMeans(unitOf.where(inLot), value.where(inLot));
              double sd = m.size() < 2 ? 0 : m.standardDeviation();
              return new LotSummary(lot, name, m.size(), m.mean(), sd, m.min(), m.max());
            })
        .toList();
  }

  private static DoubleColumn unitMeans(StringColumn unitOf, DoubleColumn value) {
    DoubleColumn means = DoubleColumn.create("mean");
    // in an order that is the same on every Java machine, so that sums are the same to the last
    // digit
    unitOf.asList().stream()
        .distinct()
        .forEach(unit -> means.append(value.where(unitOf.isEqualTo(unit)).mean()));
    return means;
  }
}
