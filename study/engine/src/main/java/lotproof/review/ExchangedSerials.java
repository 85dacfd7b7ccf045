package lotproof.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ExchangedLabels;
import lotproof.study.Characteristic;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Design.PlannedPair;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Two runs of a session in whose lines the serials of their cells, or of their boards, look
 * exchanged: with them put back the record is far more likely, or it is the plan again and the
 * readings do not speak against it. How likely a record is, is judged by zero and sensitivity in
 * the crossed model; see {@link ExchangedLabels}.
 *
 * <p>Where the study lists its pairs, only exchanges are looked at that bring the record no farther
 * from the plan. A run that a person decided about, as excluded, measured again or as it should be,
 * is not looked at.
 *
 * @param restoresPlan whether both runs are beyond the plan as written and planned when put back
 * @param gain log of how many times likelier the record is with the serials put back
 * @param needed what the gain exceeds
 */
public record ExchangedSerials(
    UnitKind kind, Line one, Line other, boolean restoresPlan, double gain, double needed) {
  private static final List<Characteristic> JUDGED_BY =
      List.of(Characteristic.SENSITIVITY, Characteristic.ZERO);
  private static final int FEWEST_RUNS = 8;
  private static final int MOST_FOUND = 10;

  /**
   * A run with the serial that was written and the one that fits.
   *
   * @param recordLine line of readings.csv at which the run begins
   */
  public record Line(String run, String written, String fits, int recordLine) {}

  /** All that a record shows and that nobody has decided about. */
  public static List<ExchangedSerials> of(
      Study study, List<Reading> readings, List<Decision> decisions) {
    List<LoadRun> ofUnits =
        LoadRun.groupedFrom(readings, study).stream()
            .filter(run -> !study.units().isCheckStandard(run.cell(), run.board()))
            .filter(run -> study.design().sideTestOf(run.name()).isEmpty())
            .toList();
    LoadRunReduction reduction = new LoadRunReduction(study.kit(), study.referenceLine());
    DecidedRuns runs =
        DecidedRuns.of(ofUnits, decisions, study.causes(), some -> reduction.reduce(some).runs());
    return of(study, runs, reduction.reduce(runs.corrected()).runs(), decisions);
  }

  /** The same of runs that are reduced, serials corrected. */
  public static List<ExchangedSerials> of(
      Study study, DecidedRuns runs, List<ReducedRun> corrected, List<Decision> decisions) {
    // what an excluded unit noted may stand in the line of another
    Set<String> out =
        runs.excluded().stream()
            .filter(excluded -> excluded.decision().target() == Target.RUN)
            .map(excluded -> excluded.run().name())
            .collect(Collectors.toSet());
    Set<String> decided =
        DecidedRuns.inForce(decisions).stream()
            .filter(d -> d.action() == Action.STAYS_IN)
            .map(Decision::serial)
            .collect(Collectors.toSet());
    List<ReducedRun> left =
        corrected.stream()
            .filter(run -> !out.contains(run.run().name()))
            .filter(run -> JUDGED_BY.stream().allMatch(c -> run.value(c).isPresent()))
            .collect(Collectors.toCollection(ArrayList::new));
    List<ExchangedSerials> all = new ArrayList<>();
    while (left.size() >= FEWEST_RUNS && all.size() < MOST_FOUND) {
      Optional<ExchangedSerials> next = likeliest(study, left, decided);
      if (next.isEmpty()) {
        break;
      }
      all.add(next.get());
      left.replaceAll(next.get()::putBack);
    }
    return all;
  }

  private static Optional<ExchangedSerials> likeliest(
      Study study, List<ReducedRun> runs, Set<String> decided) {
    StudySpread spread = new StudySpread(study);
    List<MeasuredValues> values = JUDGED_BY.stream().map(c -> spread.values(c, runs)).toList();
    FactorPlan plan = FactorPlan.of(values.get(0)).withoutPairing();
    List<ComponentsFit> fits = new ArrayList<>();
    for (MeasuredValues of : values) {
      if (!(plan.fit(of) instanceof ComponentsFit fit)) {
        return Optional.empty();
      }
      fits.add(fit);
    }
    return Stream.of(UnitKind.values())
        .filter(kind -> plan.roles().contains(kind == UnitKind.CELL ? Role.CELL : Role.BOARD))
        .flatMap(kind -> likeliest(study, kind, runs, fits, decided).stream())
        .max(Comparator.comparingDouble(e -> e.gain - e.needed));
  }

  private static Optional<ExchangedSerials> likeliest(
      Study study,
      UnitKind kind,
      List<ReducedRun> reduced,
      List<ComponentsFit> fits,
      Set<String> decided) {
    List<LoadRun> runs = reduced.stream().map(ReducedRun::run).toList();
    Function<LoadRun, String> unitOf = kind == UnitKind.CELL ? LoadRun::cell : LoadRun::board;
    Excess excess = Excess.of(study, runs);
    Map<String, Integer> sessions = new HashMap<>();
    Set<Component> factors =
        (kind == UnitKind.CELL ? Role.OF_CELLS : Role.OF_BOARDS)
            .stream().map(Role::component).collect(Collectors.toSet());
    return ExchangedLabels.find(
            fits,
            factors,
            runs.stream()
                .mapToInt(run -> sessions.computeIfAbsent(run.session(), s -> sessions.size()))
                .toArray(),
            (i, j) -> {
              LoadRun one = runs.get(i);
              LoadRun other = runs.get(j);
              return !unitOf.apply(one).equals(unitOf.apply(other))
                  && !decided.contains(one.name())
                  && !decided.contains(other.name())
                  && (!excess.planned() || excess.change(one, other) <= 0);
            },
            (i, j) -> excess.isRestoredBy(runs.get(i), runs.get(j)))
        .map(
            found -> {
              LoadRun one = runs.get(found.one());
              LoadRun other = runs.get(found.other());
              return new ExchangedSerials(
                  kind,
                  line(one, unitOf.apply(one), unitOf.apply(other)),
                  line(other, unitOf.apply(other), unitOf.apply(one)),
                  excess.isRestoredBy(one, other),
                  found.gain(),
                  found.needed());
            });
  }

  private static Line line(LoadRun run, String written, String fits) {
    return new Line(run.name(), written, fits, run.readings().get(0).recordLine());
  }

  private ReducedRun putBack(ReducedRun run) {
    for (Line line : List.of(one, other)) {
      if (line.run().equals(run.run().name())) {
        LoadRun right = run.run().with(kind, line.fits());
        return new ReducedRun(right, run.values(), run.slopeCountsPerKilogram());
      }
    }
    return run;
  }

  /** By how many runs each pair is beyond the plan, below 0 where runs are missing. */
  private record Excess(boolean planned, Map<String, Map<String, Integer>> ofBoards) {
    static Excess of(Study study, List<LoadRun> runs) {
      Map<String, Map<String, Integer>> counts = new HashMap<>();
      List<PlannedPair> pairs = study.design().pairs();
      for (PlannedPair pair : pairs) {
        counts
            .computeIfAbsent(pair.cell(), c -> new HashMap<>())
            .merge(pair.board(), -pair.runs(), Integer::sum);
      }
      for (LoadRun run : runs) {
        counts
            .computeIfAbsent(run.cell(), c -> new HashMap<>())
            .merge(run.board(), 1, Integer::sum);
      }
      return new Excess(!pairs.isEmpty(), counts);
    }

    private int of(String cell, String board) {
      return ofBoards.getOrDefault(cell, Map.of()).getOrDefault(board, 0);
    }

    /** By how many runs more the record is beyond the plan when two serials are exchanged. */
    int change(LoadRun one, LoadRun other) {
      if (one.cell().equals(other.cell()) || one.board().equals(other.board())) {
        return 0;
      }
      int taken =
          (of(one.cell(), one.board()) > 0 ? 1 : 0) + (of(other.cell(), other.board()) > 0 ? 1 : 0);
      int added =
          (of(one.cell(), other.board()) >= 0 ? 1 : 0)
              + (of(other.cell(), one.board()) >= 0 ? 1 : 0);
      return added - taken;
    }

    boolean isRestoredBy(LoadRun one, LoadRun other) {
      return planned && change(one, other) == -2;
    }
  }

  /** The finding for a person, with what to do. */
  public DataIssue issue() {
    String why =
        !restoresPlan
            ? "with them, or those of their other runs, put back the record is %s times as likely"
                .formatted(times())
            : gain > 0
                ? "with them put back both pairs are planned, and the record is %s times as likely"
                    .formatted(times())
                : "with them put back both pairs are planned, and the readings do not speak"
                    + " against it";
    String message =
        ("the %ss of runs %s and %s look exchanged: %s is written for %s and %s for %s; %s. Look at"
                + " the labels and correct both (lotproof review STUDY --decide corrected --run %s"
                + " --right-%s %s, and --run %s --right-%s %s); if they are right, decide \"stays"
                + " in\" for one of the runs")
            .formatted(
                kind.key(),
                one.run,
                other.run,
                one.written,
                one.run,
                other.written,
                other.run,
                why,
                one.run,
                kind.key(),
                one.fits,
                other.run,
                kind.key(),
                other.fits);
    return DataIssue.warning(
        Code.PAIR_SWAPPED, "readings.csv", one.recordLine, kind.key(), one.written, message);
  }

  private String times() {
    double decades = gain / Math.log(10);
    return decades < 3
        ? String.format(Locale.ROOT, Math.exp(gain) < 10 ? "%.1f" : "%.0f", Math.exp(gain))
        : String.format(Locale.ROOT, "10^%.0f", Math.floor(decades));
  }
}
