package lotproof.claim.premise;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.BiPredicate;
import lotproof.reduce.LoadRun;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
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
   * @param cell serial of the cell
   * @param board serial of the board
   * @param runs how many
   * @param unusable how many of them are recorded but cannot be used, such as runs without all
   *     planned loads
   */
  public record MissingRuns(String cell, String board, int runs, int unusable) {
    /** Name of the pair. */
    public String pair() {
      return Design.pairName(cell, board);
    }
  }

  /**
   * A unit without a usable run.
   *
   * @param kind cell or board
   * @param serial its serial
   */
  public record MissingUnit(UnitKind kind, String serial) {}

  public PlanCoverage {
    missingRuns = List.copyOf(missingRuns);
    missingUnits = List.copyOf(missingUnits);
    plannedUnits = Map.copyOf(plannedUnits);
  }

  /**
   * Compares the record with the plan.
   *
   * @param study the study
   * @param counts whether a run with this cell and board can count for the claim
   * @param recorded all load runs of the study's units, serials corrected
   * @param takenOut those that a decision took out
   * @param decided serials of units that a decision takes out, measured or not
   * @param counted those that figures rest on, with the planned loads
   */
  public static PlanCoverage of(
      Study study,
      BiPredicate<String, String> counts,
      List<LoadRun> recorded,
      Collection<LoadRun> takenOut,
      Set<String> decided,
      List<LoadRun> counted) {
    List<LoadRun> own = ofSubject(recorded, counts);
    List<LoadRun> out = ofSubject(takenOut, counts);
    List<LoadRun> in = ofSubject(counted, counts);
    List<LoadRun> answered = new ArrayList<>(in);
    answered.addAll(out);
    List<PlannedPair> plan =
        study.design().pairs().stream().filter(p -> counts.test(p.cell(), p.board())).toList();
    Map<UnitKind, Set<String>> units = plannedUnits(study, plan);
    Map<UnitKind, Integer> sizes = new LinkedHashMap<>();
    units.forEach((kind, serials) -> sizes.put(kind, serials.size()));
    return new PlanCoverage(
        plan.isEmpty()
            ? OptionalInt.empty()
            : OptionalInt.of(plan.stream().mapToInt(PlannedPair::runs).sum()),
        own.size(),
        in.size(),
        out.size(),
        missingRuns(plan, decided, own, answered),
        missingUnits(units, decided, answered),
        sizes);
  }

  private static List<LoadRun> ofSubject(
      Collection<LoadRun> runs, BiPredicate<String, String> counts) {
    return runs.stream().filter(run -> counts.test(run.cell(), run.board())).toList();
  }

  private static Map<String, Integer> byPair(List<LoadRun> runs) {
    Map<String, Integer> counts = new LinkedHashMap<>();
    runs.forEach(run -> counts.merge(run.pair(), 1, Integer::sum));
    return counts;
  }

  private static List<MissingRuns> missingRuns(
      List<PlannedPair> plan, Set<String> decided, List<LoadRun> recorded, List<LoadRun> answered) {
    Map<String, Integer> there = byPair(recorded);
    Map<String, Integer> usable = byPair(answered);
    List<MissingRuns> missing = new ArrayList<>();
    for (PlannedPair pair : plan) {
      String name = pair.name();
      int lacking = pair.runs() - usable.getOrDefault(name, 0);
      int unusable = there.getOrDefault(name, 0) - usable.getOrDefault(name, 0);
      if (lacking > 0 && !decided.contains(pair.cell()) && !decided.contains(pair.board())) {
        missing.add(
            new MissingRuns(pair.cell(), pair.board(), lacking, Math.min(lacking, unusable)));
      }
    }
    return missing;
  }

  /** Units of the plan; of a study that lists no pairs those of its lots. */
  private static Map<UnitKind, Set<String>> plannedUnits(Study study, List<PlannedPair> plan) {
    Set<String> met = new HashSet<>();
    plan.forEach(pair -> met.addAll(List.of(pair.cell(), pair.board())));
    Map<UnitKind, Set<String>> units = new LinkedHashMap<>();
    for (UnitKind kind : kinds(study)) {
      for (String serial : study.units().serials(kind)) {
        if (plan.isEmpty() || met.contains(serial)) {
          units.computeIfAbsent(kind, k -> new LinkedHashSet<>()).add(serial);
        }
      }
    }
    return units;
  }

  /** Kinds that the claim needs: on one reference partner for all, those of the claim alone. */
  private static List<UnitKind> kinds(Study study) {
    ClaimRequest.Subject subject = study.claim().subject();
    if (study.design().reference().isEmpty() || subject == ClaimRequest.Subject.KIT) {
      return List.of(UnitKind.values());
    }
    return List.of(subject == ClaimRequest.Subject.CELL ? UnitKind.CELL : UnitKind.BOARD);
  }

  private static List<MissingUnit> missingUnits(
      Map<UnitKind, Set<String>> planned, Set<String> decided, List<LoadRun> answered) {
    Set<String> met = new HashSet<>(decided);
    answered.forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    List<MissingUnit> missing = new ArrayList<>();
    planned.forEach(
        (kind, serials) ->
            serials.stream()
                .filter(serial -> !met.contains(serial))
                .forEach(serial -> missing.add(new MissingUnit(kind, serial))));
    return missing;
  }

  /** How many runs are missing; of a study that lists no pairs one for each missing unit. */
  public int missingRunCount() {
    return plannedRuns.isPresent()
        ? missingRuns.stream().mapToInt(MissingRuns::runs).sum()
        : (int) Math.max(missing(UnitKind.CELL), missing(UnitKind.BOARD));
  }

  /** Whether nothing is missing without a cause. */
  public boolean complete() {
    return missingRuns.isEmpty() && missingUnits.isEmpty();
  }

  private long missing(UnitKind kind) {
    return missingUnits.stream().filter(unit -> unit.kind() == kind).count();
  }

  /** The larger of the shares of planned runs and of planned units of a kind that are missing. */
  public double missingFraction() {
    double share =
        plannedRuns.isPresent() ? missingRunCount() / (double) plannedRuns.getAsInt() : 0;
    for (Map.Entry<UnitKind, Integer> planned : plannedUnits.entrySet()) {
      share = Math.max(share, missing(planned.getKey()) / (double) planned.getValue());
    }
    return share;
  }

  /**
   * The pairs of the missing runs, one for each run. Missing units of a study that lists no pairs
   * are joined in their order; where one kind has fewer, with units that were measured.
   */
  public List<MissingRuns> missingPairs(List<LoadRun> counted) {
    List<MissingRuns> single = new ArrayList<>();
    for (MissingRuns missing : missingRuns) {
      for (int i = 0; i < missing.runs(); i++) {
        single.add(new MissingRuns(missing.cell(), missing.board(), 1, 0));
      }
    }
    if (plannedRuns.isPresent() || missingUnits.isEmpty() || counted.isEmpty()) {
      return single;
    }
    List<String> cells = serials(UnitKind.CELL);
    List<String> boards = serials(UnitKind.BOARD);
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

  private List<String> serials(UnitKind kind) {
    return missingUnits.stream()
        .filter(unit -> unit.kind() == kind)
        .map(MissingUnit::serial)
        .toList();
  }
}
