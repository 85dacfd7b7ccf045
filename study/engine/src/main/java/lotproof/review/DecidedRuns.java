package lotproof.review;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Screen;
import lotproof.study.UnitKind;

/**
 * Runs after the decisions: corrections applied, and what the figure does not rest on taken out and
 * listed.
 *
 * <ul>
 *   <li>excluded: the unit's or run's data are out;
 *   <li>re-measured: of the two runs the first counts, unless the cause is one that the study
 *       agreed on, which proves the first run wrong; the other one is out;
 *   <li>screened: <b>every</b> unit that would fail the production test is out, whoever it is. A
 *       unit is judged by the mean of the characteristic over its runs that are still in.
 * </ul>
 *
 * @param corrected all runs, with the corrections applied and nothing excluded
 * @param kept the runs that figures with the exclusions rest on
 * @param excluded what was taken out, each with the decision that did it
 * @param issues decisions that do not do what they say
 */
public record DecidedRuns(
    List<LoadRun> corrected, List<LoadRun> kept, List<Excluded> excluded, List<DataIssue> issues) {

  /** A run that was taken out, and why. */
  public record Excluded(LoadRun run, Decision decision) {}

  public DecidedRuns {
    corrected = List.copyOf(corrected);
    kept = List.copyOf(kept);
    excluded = List.copyOf(excluded);
    issues = List.copyOf(issues);
  }

  /**
   * Applies the decisions in force to the runs.
   *
   * @param reducer characteristics of runs, as screens need them; runs that cannot be reduced are
   *     left out
   */
  public static DecidedRuns of(
      List<LoadRun> runs,
      List<Decision> decisions,
      List<String> causes,
      Function<List<LoadRun>, List<ReducedRun>> reducer) {
    List<Decision> inForce = inForce(decisions);
    List<LoadRun> corrected = corrected(runs, decisions);
    // by the names of runs, which are all different
    Map<String, Decision> out = new LinkedHashMap<>();
    for (LoadRun run : corrected) {
      takenOut(run, inForce, causes).ifPresent(decision -> out.put(run.name(), decision));
    }
    List<DataIssue> issues = new ArrayList<>();
    List<LoadRun> in = corrected.stream().filter(run -> !out.containsKey(run.name())).toList();
    for (Decision decision : inForce) {
      Screen.of(decision).ifPresent(s -> screen(s, decision, reducer.apply(in), out, issues));
    }
    return of(corrected, out, issues);
  }

  private static DecidedRuns of(
      List<LoadRun> corrected, Map<String, Decision> out, List<DataIssue> issues) {
    List<LoadRun> kept = corrected.stream().filter(run -> !out.containsKey(run.name())).toList();
    List<Excluded> excluded =
        corrected.stream()
            .filter(run -> out.containsKey(run.name()))
            .map(run -> new Excluded(run, Objects.requireNonNull(out.get(run.name()))))
            .toList();
    return new DecidedRuns(corrected, kept, excluded, issues);
  }

  /**
   * Runs of supplementary tests. A unit that a screen takes out of the load runs is out of them
   * too.
   *
   * @param ofLoadRuns the load runs of the same units
   */
  public static DecidedRuns ofSideTests(
      List<LoadRun> runs, List<Decision> decisions, List<String> causes, DecidedRuns ofLoadRuns) {
    List<Decision> inForce = inForce(decisions);
    List<LoadRun> corrected = corrected(runs, decisions);
    Map<String, Decision> screened = new HashMap<>();
    for (Excluded out : ofLoadRuns.excluded()) {
      if (out.decision().action() == Action.SCREENED) {
        screened.put(unitOf(out.decision().target(), out.run()), out.decision());
      }
    }
    Map<String, Decision> out = new LinkedHashMap<>();
    for (LoadRun run : corrected) {
      takenOut(run, inForce, causes)
          .or(() -> Optional.ofNullable(screened.get(run.cell())))
          .or(() -> Optional.ofNullable(screened.get(run.board())))
          .ifPresent(decision -> out.put(run.name(), decision));
    }
    return of(corrected, out, List.of());
  }

  /** The runs with the corrections in force applied and nothing taken out. */
  public static List<LoadRun> corrected(List<LoadRun> runs, List<Decision> decisions) {
    List<Decision> inForce = inForce(decisions);
    return runs.stream().map(run -> corrected(run, inForce)).toList();
  }

  /** Decisions in force that exclude a unit, whether it was measured or not. */
  public static List<Decision> excludedUnits(List<Decision> decisions) {
    return inForce(decisions).stream()
        .filter(d -> d.action() == Action.EXCLUDED && d.target() != Target.RUN)
        .toList();
  }

  /** Decisions that no later line withdraws; withdrawals themselves are not among them. */
  public static List<Decision> inForce(List<Decision> decisions) {
    Set<String> withdrawn = new HashSet<>();
    for (Decision decision : decisions) {
      if (decision.action() == Action.WITHDRAWN) {
        decision.value().ifPresent(withdrawn::add);
      }
    }
    return decisions.stream()
        .filter(d -> d.action() != Action.WITHDRAWN && !withdrawn.contains(d.id()))
        .toList();
  }

  /**
   * What production would measure on each unit: the mean of the characteristic over its runs.
   *
   * @param runs runs that count
   */
  public static Map<String, Double> screenedValues(Screen screen, List<ReducedRun> runs) {
    return runs.stream()
        .filter(run -> run.value(screen.characteristic()).isPresent())
        .collect(
            Collectors.groupingBy(
                run -> unitOf(screen.target(), run.run()),
                LinkedHashMap::new,
                Collectors.averagingDouble(
                    run -> run.value(screen.characteristic()).orElseThrow())));
  }

  private static String unitOf(Target target, LoadRun run) {
    return target == Target.CELL ? run.cell() : run.board();
  }

  private static void screen(
      Screen screen,
      Decision decision,
      List<ReducedRun> runs,
      Map<String, Decision> out,
      List<DataIssue> issues) {
    Map<String, Double> values = screenedValues(screen, runs);
    Double own = values.get(decision.serial());
    if (own == null || screen.passes(own)) {
      issues.add(passed(screen, decision, Optional.ofNullable(own)));
    }
    values.values().removeIf(screen::passes);
    for (ReducedRun run : runs) {
      if (values.containsKey(unitOf(screen.target(), run.run()))) {
        out.putIfAbsent(run.run().name(), decision);
      }
    }
  }

  private static DataIssue passed(Screen screen, Decision decision, Optional<Double> value) {
    String why =
        value
            .map(
                v ->
                    String.format(
                        Locale.ROOT,
                        "would pass it with %.4g %s, so it stays in",
                        v,
                        screen.characteristic().unit()))
            .orElse("has no run that counts and shows it");
    return DataIssue.warning(
        DataIssue.Code.DECISION_INVALID,
        "decisions.csv",
        decision.line(),
        "value",
        decision.serial(),
        String.format(
            Locale.ROOT,
            "%s screens for %s, but %s %s %s",
            decision.id(),
            screen.words(),
            decision.target().key(),
            decision.serial(),
            why));
  }

  private static LoadRun corrected(LoadRun run, List<Decision> decisions) {
    LoadRun result = run;
    for (Decision decision : decisions) {
      boolean concerns =
          decision.action() == Action.CORRECTED && decision.serial().equals(run.name());
      // A correction of the source has been applied where the readings come from.
      boolean ofUnit = !decision.field().equals(Optional.of("source"));
      if (concerns && ofUnit && decision.value().isPresent()) {
        String serial = decision.value().get();
        boolean cell = decision.field().equals(Optional.of(Target.CELL.key()));
        result = result.with(cell ? UnitKind.CELL : UnitKind.BOARD, serial);
      }
    }
    return result;
  }

  private static Optional<Decision> takenOut(
      LoadRun run, List<Decision> decisions, List<String> causes) {
    return decisions.stream()
        .filter(
            d ->
                (d.action() == Action.EXCLUDED && concerns(d, run))
                    || (d.action() == Action.RE_MEASURED
                        && uncounted(d, causes).equals(run.name())))
        .findFirst();
  }

  /**
   * The run of the two that does not count: the later one, unless the cause proves the first wrong.
   */
  static String uncounted(Decision remeasured, List<String> causes) {
    boolean proven = causes.contains(remeasured.cause());
    return proven ? remeasured.serial() : remeasured.value().orElse("");
  }

  static boolean concerns(Decision decision, LoadRun run) {
    return switch (decision.target()) {
      case CELL -> decision.serial().equals(run.cell());
      case BOARD -> decision.serial().equals(run.board());
      case RUN ->
          decision.serial().equals(run.name())
              || (decision.action() == Action.RE_MEASURED
                  && decision.value().equals(Optional.of(run.name())));
    };
  }
}
