package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.evidence.StepTimes;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.LotsInTime;
import lotproof.claim.premise.PlanCoverage;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.PairSummary;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.Reduction;
import lotproof.review.CheckStandardResult;
import lotproof.review.DecidedRuns;
import lotproof.review.ExchangedSerials;
import lotproof.review.ExtremeUnits;
import lotproof.review.FarReadings;
import lotproof.review.ReadingFinding;
import lotproof.spread.StudySpread;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** Carries a study from its readings and decisions to the claims: reduce, review, spread, claim. */
public record StudyAnalysis(Study study) {
  /**
   * The runs of a study with its decisions applied.
   *
   * @param recorded all of them as recorded
   * @param check those of the check standard
   * @param asRecorded those of units as recorded
   * @param all those of units with serials corrected
   * @param kept those of them that count
   * @param sides those of supplementary tests
   */
  private record Reviewed(
      List<LoadRun> recorded,
      Reduction check,
      Reduction asRecorded,
      Reduction all,
      List<ReducedRun> kept,
      DecidedRuns decided,
      DecidedRuns sides) {
    List<DecidedRuns.Excluded> excluded() {
      return Stream.concat(decided.excluded().stream(), sides.excluded().stream()).toList();
    }
  }

  private Reviewed reviewed(List<Reading> readings, List<Decision> decisions) {
    List<LoadRun> recorded = LoadRun.groupedFrom(readings, study);
    List<LoadRun> checks = new ArrayList<>();
    List<LoadRun> sideTests = new ArrayList<>();
    List<LoadRun> ofUnits = new ArrayList<>();
    for (LoadRun run : recorded) {
      (study.units().isCheckStandard(run.cell(), run.board())
              ? checks
              : study.design().sideTestOf(run.name()).isPresent() ? sideTests : ofUnits)
          .add(run);
    }
    LoadRunReduction reduction = new LoadRunReduction(study.kit(), study.referenceLine());
    DecidedRuns decided =
        DecidedRuns.of(ofUnits, decisions, study.causes(), runs -> reduction.reduce(runs).runs());
    Reduction all = reduction.reduce(decided.corrected());
    Set<String> kept = decided.kept().stream().map(LoadRun::name).collect(Collectors.toSet());
    return new Reviewed(
        recorded,
        reduction.reduce(checks),
        reduction.reduce(ofUnits),
        all,
        all.runs().stream().filter(run -> kept.contains(run.run().name())).toList(),
        decided,
        DecidedRuns.ofSideTests(sideTests, decisions, study.causes(), decided));
  }

  /**
   * The error curves behind the figure of one level, with the decided exclusions, and nothing else;
   * empty where they cannot be estimated. What a figure assumes is not looked at: this is how units
   * of a study of the same kind would spread.
   */
  public Optional<EstimatedCurves> curves(
      List<Reading> readings, List<Decision> decisions, ClaimRequest.LevelRequest request) {
    Reviewed runs = reviewed(readings, decisions);
    return levels(runs.kept(), runs.sides().kept(), Premises.ofRuns(runs.kept().size()))
        .curves(request);
  }

  /** The claims with the decided exclusions, without what stands behind and beside them. */
  List<LevelClaim> claims(List<Reading> readings, List<Decision> decisions) {
    return asDecided(reviewed(readings, decisions), decisions, false, true).claims();
  }

  /**
   * The same whatever the shape of the errors is: what another set of decisions is held against.
   */
  public List<LevelClaim> claimsOfAnyShape(List<Reading> readings, List<Decision> decisions) {
    return asDecided(reviewed(readings, decisions), decisions, false, false).claims();
  }

  private Analysis asDecided(
      Reviewed runs, List<Decision> decisions, boolean intervals, boolean shape) {
    Set<String> units =
        DecidedRuns.excludedUnits(decisions).stream()
            .map(Decision::serial)
            .collect(Collectors.toSet());
    Analysis kept = analysis(runs, runs.kept(), runs.sides().kept(), units, intervals, shape);
    return intervals
        ? kept.with(ExchangedSerials.of(study, runs.decided(), runs.all().runs(), decisions))
        : kept;
  }

  /** The whole way, with and without the decided exclusions. Series are read elsewhere. */
  public StudyResult analyse(List<Reading> readings, List<Decision> decisions) {
    Reviewed runs = reviewed(readings, decisions);
    List<DecidedRuns.Excluded> excluded = runs.excluded();
    Analysis asDecided = asDecided(runs, decisions, true, true);
    // the comparison needs figures and limits; intervals of its components would cost as much again
    Optional<Analysis> without =
        excluded.isEmpty()
            ? Optional.empty()
            : Optional.of(
                analysis(
                    runs, runs.all().runs(), runs.sides().corrected(), Set.of(), false, false));
    List<DataIssue> issues =
        new ArrayList<>(FarReadings.of(study.kit(), runs.decided().corrected()));
    issues.addAll(runs.all().issues());
    issues.addAll(runs.check().issues());
    issues.addAll(runs.decided().issues());
    asDecided.exchanged().forEach(found -> issues.add(found.issue()));
    issues.addAll(PlanCoverage.issues(study, runs.decided().corrected()));
    issues.addAll(PlanCoverage.otherLoads(study, runs.sides().corrected()));
    return new StudyResult(
        study,
        runs.recorded(),
        asDecided,
        without.map(Analysis::withoutCurves),
        excluded,
        decisions,
        new ExtremeUnits(study, DecidedRuns.inForce(decisions)).of(runs.asRecorded().runs()),
        ReadingFinding.of(runs.all().runs()),
        FigureChange.between(
            study, without.orElse(asDecided).claims(), asDecided.claims(), excluded),
        CheckStandardResult.of(runs.check().runs()),
        List.of(),
        issues);
  }

  /**
   * What some of the runs say.
   *
   * @param units serials of units that a decision takes out, measured or not
   * @param intervals whether components get intervals and figures what stands beside them
   * @param shape whether the shape of the errors is looked at; excluded runs are there to be unlike
   */
  private Analysis analysis(
      Reviewed all,
      List<ReducedRun> runs,
      List<LoadRun> sideRuns,
      Set<String> units,
      boolean intervals,
      boolean shape) {
    List<LoadRun> loadRuns = runs.stream().map(ReducedRun::run).toList();
    List<DataIssue> far = FarReadings.of(study.kit(), loadRuns);
    List<LoadRun> usable =
        loadRuns.stream()
            .filter(run -> run.loadsKilograms().equals(study.design().loadsKilograms()))
            .toList();
    PlanCoverage coverage =
        PlanCoverage.of(
            study,
            all.decided().corrected(),
            all.decided().excluded().stream()
                .map(DecidedRuns.Excluded::run)
                .filter(run -> !usable.contains(run))
                .toList(),
            units,
            usable);
    List<LotsAndDays> lots = LotsInTime.of(study, usable);
    Premises premises =
        new Premises(
            coverage,
            Premises.pairing(study, runs),
            lots,
            new LotDrift(study, usable, all.check().runs(), all.recorded()),
            shape);
    return new Analysis(
        runs.size(),
        PairSummary.of(runs),
        new StudySpread(study)
            .of(runs, intervals).stream().map(spread -> spread.withFar(far)).toList(),
        scopes(loadRuns),
        TemperatureRange.of(study.conditions(), loadRuns),
        StepTimes.of(loadRuns),
        JigLimits.of(study, runs),
        coverage,
        List.of(),
        levels(runs, sideRuns, premises).all(intervals));
  }

  private LevelClaims levels(List<ReducedRun> runs, List<LoadRun> sideRuns, Premises premises) {
    SideAllowances allowances = SideAllowances.of(study, sideRuns);
    return new LevelClaims(study, premises.pairedAs(study, runs), allowances, premises);
  }

  /** Lots of each kind; on a jig only one kind is studied. */
  private List<LotScope> scopes(List<LoadRun> runs) {
    List<LotScope> both = Stream.of(UnitKind.values()).map(kind -> scope(kind, runs)).toList();
    List<LotScope> measured = both.stream().filter(scope -> scope.units() > 0).toList();
    return measured.isEmpty() ? both : measured;
  }

  private LotScope scope(UnitKind kind, List<LoadRun> runs) {
    Map<String, String> lotOf = study.units().lotBySerial(kind);
    List<String> partners =
        study.design().reference().map(r -> List.of(r.cell(), r.board())).orElse(List.of());
    List<String> serials =
        runs.stream()
            .map(run -> kind == UnitKind.CELL ? run.cell() : run.board())
            .filter(serial -> !partners.contains(serial))
            .distinct()
            .toList();
    List<String> lots =
        serials.stream().map(lotOf::get).filter(Objects::nonNull).distinct().sorted().toList();
    return new LotScope(kind, serials.size(), lots);
  }
}
