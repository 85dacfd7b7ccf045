package lotproof.spread;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.UnitPair;
import lotproof.study.Characteristic;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.work.Parallel;

/** The spread of every characteristic of a study. */
public final class StudySpread {
  private final Study study;
  private final Map<String, String> lotOfCell;
  private final Map<String, String> lotOfBoard;

  public StudySpread(Study study) {
    this.study = study;
    this.lotOfCell = study.units().lotBySerial(UnitKind.CELL);
    this.lotOfBoard = study.units().lotBySerial(UnitKind.BOARD);
  }

  /**
   * One result for each characteristic, in the order of {@link Characteristic}. The factor is left
   * out: it is the sensitivity in other units and spreads alike.
   *
   * @param intervals whether components get intervals
   */
  public List<CharacteristicSpread> of(List<ReducedRun> runs, boolean intervals) {
    SpreadOptions options =
        new SpreadOptions(
            study.claim().content(), study.claim().confidence(), Optional.empty(), intervals);
    List<Characteristic> characteristics =
        Arrays.stream(Characteristic.values()).filter(c -> c != Characteristic.FACTOR).toList();
    return Parallel.map(
        characteristics,
        characteristic ->
            new Spread(options.withLimits(Optional.ofNullable(study.limits().get(characteristic))))
                .of(values(characteristic, runs)));
  }

  /**
   * Values of one characteristic with their units and lots; runs that do not show it are left out.
   */
  public MeasuredValues values(Characteristic characteristic, List<ReducedRun> runs) {
    List<ReducedRun> showing =
        runs.stream().filter(run -> run.value(characteristic).isPresent()).toList();
    return new MeasuredValues(
        characteristic.key(),
        characteristic.title(),
        characteristic.unit(),
        showing.stream().map(run -> run.value(characteristic).orElseThrow()).toList(),
        labels(showing.stream().map(ReducedRun::run).toList()),
        new RunInfluences(study.influences()).of(showing.stream().map(ReducedRun::run).toList()));
  }

  /** Errors of reading, one for each run, with their units and lots. */
  public MeasuredValues errors(List<? extends UnitPair> runs, List<Double> errorsGrams) {
    return new MeasuredValues("error", "Error of reading", "g", errorsGrams, labels(runs));
  }

  /** Units and lots of these runs, by role. */
  public Map<Role, List<String>> labels(List<? extends UnitPair> runs) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    labels.put(Role.CELL, runs.stream().map(UnitPair::cell).toList());
    labels.put(Role.BOARD, runs.stream().map(UnitPair::board).toList());
    labels.put(
        Role.CELL_LOT, runs.stream().map(r -> lotOfCell.getOrDefault(r.cell(), "")).toList());
    labels.put(
        Role.BOARD_LOT, runs.stream().map(r -> lotOfBoard.getOrDefault(r.board(), "")).toList());
    return labels;
  }
}
