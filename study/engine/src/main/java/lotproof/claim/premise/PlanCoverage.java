package lotproof.claim.premise;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.reduce.LoadRun;
import lotproof.reduce.UnitPair;
import lotproof.review.StudyProgress.MissingUnit;
import lotproof.review.StudyProgress.PairCount;
import lotproof.study.DataIssue;
import lotproof.study.Design.PlannedPair;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * How much of the plan stands behind the figures.
 *
 * @param plannedRuns runs that the plan lists; absent when the study lists no pairs
 * @param measuredRuns recorded runs of the study's units
 * @param countedRuns those that figures rest on
 * @param takenOutRuns those taken out by a decision
 * @param missingRuns planned runs that are not there, or not usable, without a decision
 * @param missingUnits planned units without a usable run and without a decision
 * @param plannedUnits how many units were planned, cells and boards
 */
public record PlanCoverage(
    OptionalInt plannedRuns,
    int measuredRuns,
    int countedRuns,
    int takenOutRuns,
    List<MissingRuns> missingRuns,
    List<MissingUnit> missingUnits,
    Map<UnitKind, Integer> plannedUnits) {
  /** Above this share of planned runs, or of units of a kind, missing there is no figure. */
  public static final double MOST_MISSING = 0.02;

  /**
   * Runs of a pair that are missing.
   *
   * @param unusable how many of them are recorded but cannot be used, such as runs without all
   *     planned loads
   */
  public record MissingRuns(String cell, String board, int runs, int unusable)
      implements UnitPair {}

  public PlanCoverage {
    missingRuns = List.copyOf(missingRuns);
    missingUnits = List.copyOf(missingUnits);
    plannedUnits = Map.copyOf(plannedUnits);
  }

  /** Of runs of which nothing else is known: all that there were. */
  public static PlanCoverage ofRuns(int runs) {
    return new PlanCoverage(OptionalInt.empty(), runs, runs, 0, List.of(), List.of(), Map.of());
  }

  /**
   * Compares the record with the plan.
   *
   * @param recorded all load runs of the study's units, serials corrected
   * @param takenOut those that a decision took out
   * @param decided serials of units that a decision takes out, measured or not
   * @param counted those that figures rest on, with the planned loads
   */
  public static PlanCoverage of(
      Study study,
      List<LoadRun> recorded,
      List<LoadRun> takenOut,
      Set<String> decided,
      List<LoadRun> counted) {
    List<LoadRun> own = SubjectRuns.of(study, recorded);
    List<LoadRun> out = SubjectRuns.of(study, takenOut);
    List<LoadRun> in = SubjectRuns.of(study, counted);
    List<LoadRun> answered = Stream.concat(in.stream(), out.stream()).toList();
    List<PlannedPair> plan =
        study.design().pairs().stream()
            .filter(p -> SubjectRuns.holds(study, p.cell(), p.board()))
            .toList();
    Map<UnitKind, Set<String>> units = plannedUnits(study, plan);
    Map<UnitKind, Integer> sizes = new EnumMap<>(UnitKind.class);
    units.forEach((kind, serials) -> sizes.put(kind, serials.size()));
    Set<String> met = new HashSet<>(decided);
    answered.forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    return new PlanCoverage(
        plan.isEmpty()
            ? OptionalInt.empty()
            : OptionalInt.of(plan.stream().mapToInt(PlannedPair::runs).sum()),
        own.size(),
        in.size(),
        out.size(),
        missingRuns(decided, PairCount.of(plan, own), PairCount.of(plan, answered)),
        units.entrySet().stream()
            .flatMap(kind -> MissingUnit.of(kind.getKey(), kind.getValue(), met))
            .toList(),
        sizes);
  }

  /** Both lists begin with the planned pairs. */
  private static List<MissingRuns> missingRuns(
      Set<String> decided, List<PairCount> recorded, List<PairCount> usable) {
    List<MissingRuns> missing = new ArrayList<>();
    for (int i = 0; i < Math.min(recorded.size(), usable.size()); i++) {
      PairCount pair = usable.get(i);
      int lacking = pair.planned() - pair.measured();
      int unusable = recorded.get(i).measured() - pair.measured();
      if (lacking > 0 && !decided.contains(pair.cell()) && !decided.contains(pair.board())) {
        missing.add(
            new MissingRuns(pair.cell(), pair.board(), lacking, Math.min(lacking, unusable)));
      }
    }
    return missing;
  }

  /**
   * Units of the plan, of a study that lists no pairs those of its lots; on one reference partner
   * for all those of the claim's kind.
   */
  private static Map<UnitKind, Set<String>> plannedUnits(Study study, List<PlannedPair> plan) {
    Set<String> met = new HashSet<>();
    plan.forEach(pair -> met.addAll(List.of(pair.cell(), pair.board())));
    Map<UnitKind, Set<String>> units = new EnumMap<>(UnitKind.class);
    for (UnitKind kind : UnitKind.values()) {
      Set<String> serials = new LinkedHashSet<>(study.units().serials(kind));
      if (!plan.isEmpty()) {
        serials.retainAll(met);
      }
      if (SubjectRuns.needs(study, kind) && !serials.isEmpty()) {
        units.put(kind, serials);
      }
    }
    return units;
  }

  /** What the plan asked for and the record does not hold, and runs with other loads. */
  public static List<DataIssue> issues(Study study, List<LoadRun> runs) {
    List<DataIssue> issues = new ArrayList<>();
    for (PairCount pair : PairCount.of(study.design().pairs(), runs)) {
      if (pair.measured() < pair.planned()) {
        String message =
            (pair.planned() == 1 ? "1 run" : pair.planned() + " runs")
                + " of this pair planned, "
                + pair.measured()
                + " found";
        issues.add(incomplete(0, pair.pair(), message));
      }
    }
    issues.addAll(otherLoads(study, runs));
    return issues;
  }

  /** Runs whose loads are not those that they were planned with. */
  public static List<DataIssue> otherLoads(Study study, List<LoadRun> runs) {
    List<DataIssue> issues = new ArrayList<>();
    for (LoadRun run : runs) {
      List<Double> planned = study.design().loadsOf(run.name());
      if (!run.loadsKilograms().equals(planned)) {
        issues.add(
            incomplete(
                run.readings().get(0).recordLine(),
                run.pair(),
                String.format(
                    Locale.ROOT,
                    "run %s has the loads %s kg instead of the planned %s kg; it enters no figure",
                    run.name(),
                    run.loadsKilograms(),
                    planned)));
      }
    }
    return issues;
  }

  private static DataIssue incomplete(int line, String unit, String message) {
    return DataIssue.warning(
        DataIssue.Code.RUN_INCOMPLETE, "readings.csv", line, "", unit, message);
  }

  /** How many runs are missing; of a study that lists no pairs one for each missing unit. */
  public int missingRunCount() {
    return plannedRuns.isPresent()
        ? missingRuns.stream().mapToInt(MissingRuns::runs).sum()
        : Math.max(missing(UnitKind.CELL).size(), missing(UnitKind.BOARD).size());
  }

  /** Whether nothing is missing without a cause. */
  public boolean complete() {
    return missingRuns.isEmpty() && missingUnits.isEmpty();
  }

  private List<String> missing(UnitKind kind) {
    return missingUnits.stream()
        .filter(unit -> unit.kind() == kind)
        .map(MissingUnit::serial)
        .toList();
  }

  /** The larger of the shares of planned runs and of planned units of a kind that are missing. */
  public double missingFraction() {
    double share =
        plannedRuns.isPresent() ? missingRunCount() / (double) plannedRuns.getAsInt() : 0;
    for (Map.Entry<UnitKind, Integer> planned : plannedUnits.entrySet()) {
      share = Math.max(share, missing(planned.getKey()).size() / (double) planned.getValue());
    }
    return share;
  }

  /**
   * The pairs of the missing runs, one for each run. Missing units of a study that lists no pairs
   * are joined in their order; where one kind has fewer, with units that were measured.
   */
  public List<UnitPair> missingPairs(List<LoadRun> counted) {
    List<UnitPair> single = new ArrayList<>();
    for (MissingRuns missing : missingRuns) {
      single.addAll(Collections.nCopies(missing.runs(), missing));
    }
    if (plannedRuns.isPresent() || missingUnits.isEmpty() || counted.isEmpty()) {
      return single;
    }
    List<String> cells = missing(UnitKind.CELL);
    List<String> boards = missing(UnitKind.BOARD);
    for (int i = 0; i < Math.max(cells.size(), boards.size()); i++) {
      LoadRun partner = counted.get(i % counted.size());
      single.add(
          new MissingRuns(
              i < cells.size() ? cells.get(i) : partner.cell(),
              i < boards.size() ? boards.get(i) : partner.board(),
              1,
              0));
    }
    return single;
  }
}
