package lotproof.claim.premise;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.reduce.LoadRun;
import lotproof.statistics.design.GroupOverlap;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Whether lots can be told from the time at which they were measured, by the design alone: how much
 * of a contrast of lots sessions or a straight drift over the runs explain. Order is that of the
 * times where every run has one, else that of the record (docs/method.md, "Lots and time").
 */
public final class LotsInTime {
  /** From this share on, a drift could hide half of the variance of lots or more. */
  private static final double LARGE_SHARE = 0.5;

  /** A random order gives a share so large by chance more rarely than this. */
  private static final double LEVEL = 0.005;

  private LotsInTime() {}

  /** Runs in the order in which they were made, as far as the record tells it. */
  public static List<LoadRun> inOrder(List<LoadRun> runs) {
    return isTimed(runs)
        ? runs.stream().sorted(Comparator.comparing(run -> time(run).orElseThrow())).toList()
        : runs;
  }

  /** The session, and the day where every run has a time. */
  public static List<String> sessions(List<LoadRun> runs) {
    boolean timed = isTimed(runs);
    return runs.stream()
        .map(
            run ->
                timed ? run.session() + " " + time(run).orElseThrow().toLocalDate() : run.session())
        .toList();
  }

  private static boolean isTimed(List<LoadRun> runs) {
    return runs.stream().allMatch(run -> time(run).isPresent());
  }

  private static Optional<LocalDateTime> time(LoadRun run) {
    return run.readings().get(0).time();
  }

  /** What cannot be told apart, at most one finding for each kind; the stronger of two. */
  public static List<LotsAndDays> of(Study study, List<LoadRun> runs) {
    return Stream.of(UnitKind.values()).flatMap(kind -> of(study, kind, runs).stream()).toList();
  }

  /** The runs of units of a lot, by lot, as positions in the order of time. */
  public static Map<String, List<Integer>> positions(
      Study study, UnitKind kind, List<LoadRun> ordered) {
    Map<String, String> lotOf = study.units().lotBySerial(kind);
    Map<String, List<Integer>> positions = new LinkedHashMap<>();
    for (int i = 0; i < ordered.size(); i++) {
      String lot = lotOf.get(serial(kind, ordered.get(i)));
      if (lot != null) {
        positions.computeIfAbsent(lot, l -> new ArrayList<>()).add(i);
      }
    }
    return positions;
  }

  private static String serial(UnitKind kind, LoadRun run) {
    return kind == UnitKind.CELL ? run.cell() : run.board();
  }

  private static Optional<LotsAndDays> of(Study study, UnitKind kind, List<LoadRun> runs) {
    Map<String, String> lotOf = study.units().lotBySerial(kind);
    List<LoadRun> ordered =
        inOrder(runs).stream().filter(run -> lotOf.containsKey(serial(kind, run))).toList();
    List<String> lots =
        ordered.stream().map(run -> Objects.requireNonNull(lotOf.get(serial(kind, run)))).toList();
    int units = (int) ordered.stream().map(run -> serial(kind, run)).distinct().count();
    if (lots.stream().distinct().count() < 2) {
      return Optional.empty();
    }
    return finding(
            kind, LotsAndDays.Time.SESSIONS, GroupOverlap.ofGroups(lots, sessions(ordered), units))
        .or(() -> finding(kind, LotsAndDays.Time.ORDER, GroupOverlap.ofOrder(lots, units)));
  }

  private static Optional<LotsAndDays> finding(
      UnitKind kind, LotsAndDays.Time time, GroupOverlap overlap) {
    return overlap.shareFraction() >= LARGE_SHARE && overlap.chance() <= LEVEL
        ? Optional.of(
            new LotsAndDays(
                Effect.NO_FIGURE,
                kind,
                time,
                overlap.shareFraction(),
                overlap.chance(),
                new Assumption.Drift.NotAsked()))
        : Optional.empty();
  }
}
