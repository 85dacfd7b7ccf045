package lotproof.review;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.reduce.LoadRun;
import lotproof.reduce.UnitPair;
import lotproof.study.Decision;
import lotproof.study.Design.PlannedPair;
import lotproof.study.Reading;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * What of the plan is measured and what is missing, after the corrections that were decided.
 *
 * @param plannedRuns runs that the plan asks for, without the check standard's
 * @param plannedRunsDone how many of them are in the record
 * @param missing planned pairs with fewer runs than planned
 * @param beyondPlan pairs with more runs than planned, or none planned
 * @param otherLoads names of runs whose loads are not those of the plan; they enter no figure
 * @param unmeasured units of the study that no run has met
 * @param sideTests runs of each side test of the study
 */
public record StudyProgress(
    int plannedRuns,
    int plannedRunsDone,
    int checkRuns,
    List<Session> sessions,
    List<PairCount> missing,
    List<PairCount> beyondPlan,
    List<String> otherLoads,
    List<MissingUnit> unmeasured,
    List<SideTestCount> sideTests) {

  /** One bench session: runs of the study's units and of the check standard. */
  public record Session(String name, int runs, int checkRuns) {}

  /** How many runs of a pair are planned and in the record. */
  public record PairCount(String cell, String board, int planned, int measured)
      implements UnitPair {
    /** Planned pairs in their order, then those that were measured without a plan. */
    public static List<PairCount> of(List<PlannedPair> plan, List<LoadRun> runs) {
      Map<String, PairCount> counts = new LinkedHashMap<>();
      plan.forEach(p -> counts.put(p.name(), new PairCount(p.cell(), p.board(), p.runs(), 0)));
      for (LoadRun run : runs) {
        counts.merge(
            run.pair(),
            new PairCount(run.cell(), run.board(), 0, 1),
            (a, one) -> new PairCount(a.cell, a.board, a.planned, a.measured + 1));
      }
      return List.copyOf(counts.values());
    }
  }

  /** A planned unit that no run has met. */
  public record MissingUnit(UnitKind kind, String serial) {
    /** Those of some units that are not among the others. */
    public static Stream<MissingUnit> of(
        UnitKind kind, Collection<String> serials, Set<String> met) {
      return serials.stream()
          .filter(serial -> !met.contains(serial))
          .map(serial -> new MissingUnit(kind, serial));
    }
  }

  /**
   * How often a side test was made.
   *
   * @param effect key of what it shows
   * @param otherLoads names of its runs with other loads; they enter no figure
   */
  public record SideTestCount(String effect, int runs, List<String> otherLoads) {
    public SideTestCount {
      otherLoads = List.copyOf(otherLoads);
    }
  }

  public StudyProgress {
    sessions = List.copyOf(sessions);
    missing = List.copyOf(missing);
    beyondPlan = List.copyOf(beyondPlan);
    otherLoads = List.copyOf(otherLoads);
    unmeasured = List.copyOf(unmeasured);
    sideTests = List.copyOf(sideTests);
  }

  /** Whether every planned run is there. */
  public boolean complete() {
    return missing.isEmpty();
  }

  /** Compares the record with the plan. */
  public static StudyProgress of(Study study, List<Reading> readings, List<Decision> decisions) {
    List<LoadRun> recorded = LoadRun.groupedFrom(readings, study);
    List<LoadRun> runs = DecidedRuns.corrected(recorded, decisions);
    List<LoadRun> ofUnits =
        runs.stream()
            .filter(run -> !isCheck(study, run))
            .filter(run -> study.design().sideTestOf(run.name()).isEmpty())
            .toList();
    List<PairCount> pairs = PairCount.of(study.design().pairs(), ofUnits);
    boolean listed = !study.design().pairs().isEmpty();
    Set<String> met = new HashSet<>();
    ofUnits.forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    return new StudyProgress(
        pairs.stream().mapToInt(PairCount::planned).sum(),
        pairs.stream().mapToInt(pair -> Math.min(pair.measured(), pair.planned())).sum(),
        (int) runs.stream().filter(run -> isCheck(study, run)).count(),
        sessions(study, runs),
        pairs.stream().filter(pair -> pair.measured() < pair.planned()).toList(),
        pairs.stream().filter(pair -> listed && pair.measured() > pair.planned()).toList(),
        ofUnits.stream()
            .filter(run -> !run.loadsKilograms().equals(study.design().loadsKilograms()))
            .map(LoadRun::name)
            .toList(),
        Stream.of(UnitKind.values())
            .flatMap(kind -> MissingUnit.of(kind, study.units().serials(kind), met))
            .toList(),
        study.design().sideTests().stream().map(test -> count(test, runs)).toList());
  }

  private static SideTestCount count(SideTest test, List<LoadRun> runs) {
    List<LoadRun> own = runs.stream().filter(run -> test.holds(run.name())).toList();
    List<String> other =
        own.stream()
            .filter(run -> !run.loadsKilograms().equals(test.loadsKilograms()))
            .map(LoadRun::name)
            .toList();
    return new SideTestCount(test.effect().key(), own.size() - other.size(), other);
  }

  private static boolean isCheck(Study study, LoadRun run) {
    return study.units().isCheckStandard(run.cell(), run.board());
  }

  private static List<Session> sessions(Study study, List<LoadRun> runs) {
    Map<String, List<LoadRun>> bySession =
        runs.stream()
            .collect(
                Collectors.groupingBy(LoadRun::session, LinkedHashMap::new, Collectors.toList()));
    List<Session> sessions = new ArrayList<>();
    bySession.forEach(
        (name, ofSession) -> {
          int checks = (int) ofSession.stream().filter(run -> isCheck(study, run)).count();
          sessions.add(new Session(name, ofSession.size() - checks, checks));
        });
    return sessions;
  }
}
