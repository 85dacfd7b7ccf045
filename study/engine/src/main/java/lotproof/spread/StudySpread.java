package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.IntStream;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.UnitPair;
import lotproof.study.BenchInfluences;
import lotproof.study.Characteristic;
import lotproof.study.Reading;
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
    return Parallel.map(
        Arrays.stream(Characteristic.values()).filter(c -> c != Characteristic.FACTOR).toList(),
        characteristic ->
            new Spread(
                    new SpreadOptions(
                        study.claim().content(),
                        study.claim().confidence(),
                        Optional.ofNullable(study.limits().get(characteristic)),
                        intervals))
                .of(values(characteristic, runs)));
  }

  /**
   * Values of one characteristic with their units, lots and declared influences; runs that do not
   * show it are left out.
   */
  public MeasuredValues values(Characteristic characteristic, List<ReducedRun> runs) {
    List<ReducedRun> showing =
        runs.stream().filter(run -> run.value(characteristic).isPresent()).toList();
    List<LoadRun> loadRuns = showing.stream().map(ReducedRun::run).toList();
    return new MeasuredValues(
        characteristic.key(),
        characteristic.title(),
        characteristic.unit(),
        showing.stream().map(run -> run.value(characteristic).orElseThrow()).toList(),
        labels(loadRuns),
        influences(loadRuns));
  }

  /** Errors of reading, one for each run, with their units and lots. */
  public MeasuredValues errors(List<? extends UnitPair> runs, List<Double> errorsGrams) {
    return new MeasuredValues("error", "Error of reading", "g", errorsGrams, labels(runs));
  }

  private Map<Role, List<String>> labels(List<? extends UnitPair> runs) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    labels.put(Role.CELL, runs.stream().map(UnitPair::cell).toList());
    labels.put(Role.BOARD, runs.stream().map(UnitPair::board).toList());
    labels.put(
        Role.CELL_LOT, runs.stream().map(r -> lotOfCell.getOrDefault(r.cell(), "")).toList());
    labels.put(
        Role.BOARD_LOT, runs.stream().map(r -> lotOfBoard.getOrDefault(r.board(), "")).toList());
    return labels;
  }

  /**
   * The declared influences of runs: a temperature is the mean over the run's readings that carry
   * one, the day that of the first reading.
   */
  private List<KnownInfluence> influences(List<LoadRun> runs) {
    List<KnownInfluence> influences = new ArrayList<>();
    for (BenchInfluences.Covariate which : study.influences().covariates()) {
      List<Double> values =
          switch (which) {
            case RUN_ORDER ->
                IntStream.rangeClosed(1, runs.size()).mapToObj(i -> (double) i).toList();
            case CELL_TEMPERATURE -> means(runs, r -> r.beside().cellTemperatureCelsius());
            case BOARD_TEMPERATURE -> means(runs, r -> r.beside().boardTemperatureCelsius());
          };
      influences.add(
          values.size() == runs.size()
              ? new KnownInfluence.Covariate(which.title(), which.unit(), values)
              : new KnownInfluence.NotRecorded(which.title(), runs.size() - values.size()));
    }
    for (BenchInfluences.Block which : study.influences().blocks()) {
      List<String> labels =
          switch (which) {
            case SESSION -> runs.stream().map(LoadRun::session).filter(s -> !s.isEmpty()).toList();
            case DAY ->
                runs.stream()
                    .flatMap(run -> run.readings().get(0).time().stream())
                    .map(time -> time.toLocalDate().toString())
                    .toList();
          };
      influences.add(
          labels.size() == runs.size()
              ? new KnownInfluence.Block(which.key(), labels)
              : new KnownInfluence.NotRecorded(which.key(), runs.size() - labels.size()));
    }
    return influences;
  }

  /** Means of the runs that carry the quantity; fewer than the runs when one does not. */
  private static List<Double> means(
      List<LoadRun> runs, Function<Reading, OptionalDouble> quantity) {
    return runs.stream()
        .flatMapToDouble(
            run ->
                run.readings().stream()
                    .map(quantity)
                    .flatMapToDouble(OptionalDouble::stream)
                    .average()
                    .stream())
        .boxed()
        .toList();
  }
}
