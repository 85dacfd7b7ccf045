package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.claim.upkeep.FigureMoves;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.PairSummary;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.Reduction;
import lotproof.review.DecidedRuns;
import lotproof.review.ExtremeReadings;
import lotproof.review.ExtremeUnits;
import lotproof.review.Finding;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.StudySpread;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.work.SideBySide;

/** Carries a study from its readings and decisions to the claims: reduce, review, spread, claim. */
public final class StudyAnalysis {
  /**
   * Simulated future kits behind each bound over all loads; enough for three digits of the
   * quantile.
   */
  public static final int DEFAULT_DRAWS = 40_000;

  private final Study study;
  private final int draws;

  public StudyAnalysis(Study study) {
    this(study, DEFAULT_DRAWS);
  }

  /**
   * An analysis with a chosen number of simulated kits.
   *
   * @param draws at least 20000; fewer make the quantile rough
   */
  public StudyAnalysis(Study study, int draws) {
    if (draws < 20_000) {
      throw new IllegalArgumentException("draws must be at least 20000, was " + draws);
    }
    this.study = study;
    this.draws = draws;
  }

  /** The whole way, with and without the decided exclusions. */
  public StudyResult analyse(List<Reading> readings, List<Decision> decisions) {
    List<LoadRun> recorded = LoadRun.groupedFrom(readings);
    List<LoadRun> ofCheckStandard = recorded.stream().filter(this::isCheckStandard).toList();
    List<LoadRun> ofUnits =
        recorded.stream().filter(run -> !isCheckStandard(run) && !isSideTest(run)).toList();
    LoadRunReduction reduction = new LoadRunReduction(study.kit(), study.referenceLine());
    DecidedRuns decided =
        DecidedRuns.of(ofUnits, decisions, study.causes(), runs -> reduction.reduce(runs).runs());
    Reduction all = reduction.reduce(decided.corrected());
    Reduction asRecorded = reduction.reduce(ofUnits);
    Reduction check = reduction.reduce(ofCheckStandard);
    Map<String, LoadRun> kept =
        decided.kept().stream().collect(Collectors.toMap(LoadRun::name, Function.identity()));
    List<ReducedRun> keptRuns =
        all.runs().stream().filter(run -> kept.containsKey(run.run().name())).toList();

    SideRuns sides =
        SideRuns.of(
            study,
            recorded.stream().filter(run -> !isCheckStandard(run) && isSideTest(run)).toList(),
            decisions,
            decided);
    List<DecidedRuns.Excluded> excluded =
        Stream.concat(decided.excluded().stream(), sides.excluded().stream()).toList();
    List<Decision> exclusions =
        excluded.stream().map(DecidedRuns.Excluded::decision).distinct().toList();
    boolean excludes = !excluded.isEmpty();
    // the comparison needs figures and limits; intervals of its components would cost as much again
    List<Supplier<Analysis>> work =
        new ArrayList<>(List.of(() -> analysis(keptRuns, sides.kept(), exclusions, true)));
    if (excludes) {
      work.add(() -> analysis(all.runs(), sides.corrected(), List.of(), false));
    }
    List<Analysis> analyses = SideBySide.map(work, Supplier::get);
    List<Finding> findings =
        new ExtremeUnits(study).of(asRecorded.runs(), DecidedRuns.inForce(decisions));
    List<DataIssue> issues = new ArrayList<>(all.issues());
    issues.addAll(check.issues());
    issues.addAll(decided.issues());
    issues.addAll(PlannedRuns.missing(study, decided.corrected()));
    issues.addAll(PlannedRuns.otherLoads(study, sides.corrected()));
    return new StudyResult(
        study,
        recorded,
        analyses.get(0),
        analyses.get(analyses.size() - 1),
        excluded,
        decisions,
        findings,
        new ExtremeReadings().of(all.runs()),
        FigureMoves.between(
            analyses.get(analyses.size() - 1).claims(),
            analyses.get(0).claims(),
            study.claim().content()),
        CheckStandardResult.of(check.runs()),
        issues,
        Cautions.always(),
        notCovered(analyses.get(0)));
  }

  private List<String> notCovered(Analysis analysis) {
    return Cautions.notCovered(
        study, analysis.claims().stream().flatMap(claim -> claim.figure().stream()).toList());
  }

  private boolean isSideTest(LoadRun run) {
    return study.design().sideTestOf(run.name()).isPresent();
  }

  private boolean isReference(String serial) {
    return study
        .design()
        .reference()
        .map(partners -> partners.cell().equals(serial) || partners.board().equals(serial))
        .orElse(false);
  }

  private boolean isCheckStandard(LoadRun run) {
    return study.isCheckStandard(run.cell(), run.board());
  }

  private Analysis analysis(
      List<ReducedRun> runs, List<LoadRun> sideRuns, List<Decision> exclusions, boolean intervals) {
    List<LoadRun> loadRuns = runs.stream().map(ReducedRun::run).toList();
    List<CharacteristicSpread> spreads = new StudySpread(study).of(runs, intervals);
    List<LotScope> scopes = scopes(loadRuns);
    TemperatureRange temperature = TemperatureRange.of(study.conditions(), loadRuns);
    ClaimSentence sentence = new ClaimSentence(study, scopes, temperature, exclusions);
    List<LevelClaim> claims =
        new LevelClaims(study, draws, runs, sentence, SideAllowances.of(study, sideRuns, draws))
            .all(intervals);
    return new Analysis(runs.size(), PairSummary.of(runs), spreads, scopes, temperature, claims);
  }

  private List<LotScope> scopes(List<LoadRun> runs) {
    List<LotScope> both = List.of(scope(UnitKind.CELL, runs), scope(UnitKind.BOARD, runs));
    // on a jig only one kind is studied
    List<LotScope> measured = both.stream().filter(scope -> scope.units() > 0).toList();
    return measured.isEmpty() ? both : measured;
  }

  private LotScope scope(UnitKind kind, List<LoadRun> runs) {
    Map<String, String> lotOf = study.lotBySerial(kind);
    List<String> serials =
        runs.stream()
            .map(run -> kind == UnitKind.CELL ? run.cell() : run.board())
            .filter(serial -> !isReference(serial))
            .distinct()
            .toList();
    List<String> lots =
        serials.stream().map(lotOf::get).filter(Objects::nonNull).distinct().sorted().toList();
    return new LotScope(kind, serials.size(), lots);
  }
}
