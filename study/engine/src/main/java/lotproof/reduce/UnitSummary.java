package lotproof.reduce;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lotproof.study.Characteristic;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * What was found on one cell or board over all its runs; its partners are not taken out.
 *
 * @param kind cell or board
 * @param serial its serial
 * @param lot its lot; empty where the study names none
 * @param runs its runs, in the order in which they were given
 * @param means mean over the runs, by characteristic
 */
public record UnitSummary(
    UnitKind kind,
    String serial,
    String lot,
    List<ReducedRun> runs,
    Map<Characteristic, Double> means) {

  /** One summary for each cell, lot by lot, then one for each board. */
  public static List<UnitSummary> of(Study study, List<ReducedRun> runs) {
    List<UnitSummary> units = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      Map<String, String> lots = study.units().lotBySerial(kind);
      Map<String, Map<String, List<ReducedRun>>> byLot = new TreeMap<>();
      for (ReducedRun run : runs) {
        String serial = kind == UnitKind.CELL ? run.run().cell() : run.run().board();
        byLot
            .computeIfAbsent(lots.getOrDefault(serial, ""), lot -> new TreeMap<>())
            .computeIfAbsent(serial, unit -> new ArrayList<>())
            .add(run);
      }
      byLot.forEach(
          (lot, ofLot) ->
              ofLot.forEach(
                  (serial, own) ->
                      units.add(new UnitSummary(kind, serial, lot, own, PairSummary.means(own)))));
    }
    return units;
  }
}
