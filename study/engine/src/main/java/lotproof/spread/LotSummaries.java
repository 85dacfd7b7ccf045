package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import lotproof.model.GroupedValues;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.CharacteristicSpread.LotSummary;
import tech.tablesaw.api.DoubleColumn;

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
    IntFunction<String> unitOf =
        values.labelsOf(unit).<IntFunction<String>>map(units -> units::get).orElse(i -> "" + i);
    List<List<String>> lotsAndUnits =
        IntStream.range(0, lots.size())
            .mapToObj(i -> List.of(lots.get(i), unitOf.apply(i)))
            .toList();
    Map<List<String>, DoubleColumn> units = GroupedValues.of(lotsAndUnits, values.array());
    List<String> lotOfUnit = units.keySet().stream().map(key -> key.get(0)).toList();
    double[] unitMeans = units.values().stream().mapToDouble(DoubleColumn::mean).toArray();
    return GroupedValues.of(lotOfUnit, unitMeans).entrySet().stream()
        .sorted(Map.Entry.comparingByKey())
        .map(entry -> summary(lot, entry.getKey(), entry.getValue()))
        .toList();
  }

  private static LotSummary summary(Role role, String lot, DoubleColumn means) {
    double sd = means.size() < 2 ? 0 : means.standardDeviation();
    return new LotSummary(role, lot, means.size(), means.mean(), sd, means.min(), means.max());
  }
}
