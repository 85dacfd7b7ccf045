package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.claim.premise.NormalShape;
import lotproof.claim.premise.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.UnitPair;
import lotproof.review.FarReadings;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.work.Parallel;

/** The claims at all calibration levels of a study, from one set of runs. */
final class LevelClaims {
  private final Study study;
  private final List<ReducedRun> runs;
  private final Premises premises;
  private final FigureCalculator calculator;

  /** Claims of a study without supplementary tests. */
  LevelClaims(Study study, List<ReducedRun> runs) {
    this(study, runs, new SideAllowances(List.of(), List.of()), Premises.ofRuns(runs.size()));
  }

  LevelClaims(Study study, List<ReducedRun> runs, SideAllowances sides, Premises premises) {
    this.study = study;
    this.runs = runs;
    this.premises = premises;
    this.calculator =
        new FigureCalculator(study, runs.stream().map(ReducedRun::run).toList(), sides);
  }

  /** One level before levels are compared. */
  private record Level(
      LevelRequest request,
      List<ErrorCurve> curves,
      FigureCalculator.Computed computed,
      List<Assumption> assumptions,
      Optional<FigureDetail> detail) {
    OptionalDouble limitGrams() {
      return computed instanceof FigureCalculator.Computed.Found found
          ? OptionalDouble.of(found.outcome().limitGrams())
          : OptionalDouble.empty();
    }
  }

  /**
   * The claims in study order.
   *
   * @param details whether curves, budget and influence stand beside each figure
   */
  List<LevelClaim> all(boolean details) {
    List<Level> levels = Parallel.map(study.claim().levels(), request -> level(request, details));
    return levels.stream()
        .map(
            level ->
                new LevelClaim(
                    level.request().level(),
                    level.request().temperatureCorrection(),
                    study.claim().form(),
                    level.computed().outcome(),
                    level.detail(),
                    verdict(levels, level),
                    premises.coverage(),
                    level.assumptions(),
                    level.curves()))
        .toList();
  }

  /** The curves behind the figure of one level, if it has one. */
  Optional<EstimatedCurves> curves(LevelRequest request) {
    return level(request, false).computed() instanceof FigureCalculator.Computed.Found found
        ? Optional.of(EstimatedCurves.of(found))
        : Optional.empty();
  }

  private Level level(LevelRequest request, boolean details) {
    List<DataIssue> far = FarReadings.of(study.kit(), calculator.runs());
    if (!far.isEmpty()) {
      return none(request, List.of(), new Refusal.FarReadings(far), premises.lots());
    }
    LevelCurves known = LevelCurves.of(study, runs, request);
    if (!(known instanceof LevelCurves.Found curves)) {
      return none(request, List.of(), ((LevelCurves.None) known).why(), premises.lots());
    }
    Optional<Assumption> refusal = refusal(premises.general());
    return refusal.isPresent()
        ? none(request, curves.judged(), new Refusal.Assumed(refusal.get()), premises.lots())
        : withDrift(request, curves, details);
  }

  private Level none(
      LevelRequest request, List<ErrorCurve> curves, Refusal why, List<LotsAndDays> lots) {
    List<Assumption> all = new ArrayList<>(premises.general());
    all.addAll(lots);
    if (why instanceof Refusal.Assumed assumed && !all.contains(assumed.assumption())) {
      all.add(assumed.assumption());
    }
    return new Level(request, curves, FigureCalculator.none(why), all, Optional.empty());
  }

  private static Optional<Assumption> refusal(List<Assumption> found) {
    return found.stream().filter(a -> a.effect() == Effect.NO_FIGURE).findFirst();
  }

  private static boolean isNormal(List<Assumption> shape) {
    return shape.stream().noneMatch(Assumption.NotNormal.class::isInstance);
  }

  /** How far a figure rests on the normal shape, and whether its errors show one. */
  private List<Assumption> shape(FigureCalculator.Computed computed) {
    if (!premises.shape() || !(computed instanceof FigureCalculator.Computed.Found found)) {
      return List.of();
    }
    FigureEvidence evidence = found.evidence();
    NormalShape shape =
        new NormalShape(study, evidence.ofSubject(), found.outcome().tested().disjointKits());
    List<Assumption> all = new ArrayList<>();
    shape.rests().ifPresent(all::add);
    shape.found(found.model(), evidence.parts(), found.outcome().worstPoint()).ifPresent(all::add);
    return all;
  }

  /** The figure with what a drift may hide of lots, where it is known and small. */
  private Level withDrift(LevelRequest request, LevelCurves.Found curves, boolean details) {
    List<LotsAndDays> lots = new ArrayList<>();
    double hidden = 0;
    for (LotsAndDays found : premises.lots()) {
      Drift drift =
          Objects.requireNonNull(premises.drift())
              .hidden(found.kind(), request.level(), curves.correction());
      if (!(drift instanceof Drift.Bounded bounded)) {
        Refusal why = new Refusal.Assumed(found.with(Effect.NO_FIGURE, drift));
        return none(request, curves.judged(), why, premises.lots());
      }
      hidden += bounded.grams();
      lots.add(found.with(Effect.ALLOWANCE, bounded));
    }
    FigureCalculator.Computed computed =
        calculator.figure(request.level(), curves.judged(), curves.correction(), hidden);
    if (computed instanceof FigureCalculator.Computed.Found found
        && hidden > LotDrift.LARGEST_SHARE * (found.outcome().limitGrams() - hidden)) {
      lots.replaceAll(lot -> lot.with(Effect.NO_FIGURE, lot.drift()));
      return none(request, curves.judged(), new Refusal.Assumed(lots.get(0)), lots);
    }
    List<Assumption> shape = shape(computed);
    Optional<Assumption> refusal = refusal(shape);
    if (refusal.isPresent()) {
      return none(request, curves.judged(), new Refusal.Assumed(refusal.get()), lots);
    }
    if (details) {
      computed = besideKits(request, curves, hidden, computed);
    }
    List<Assumption> all = new ArrayList<>();
    for (Assumption general : premises.general()) {
      all.add(
          general instanceof RunsMissing missing
                  && computed instanceof FigureCalculator.Computed.Found figure
              ? missing.with(likeWorst(request, curves, hidden, figure.outcome()))
              : general);
    }
    all.addAll(lots);
    all.addAll(shape);
    return new Level(
        request,
        curves.judged(),
        computed,
        all,
        details && computed instanceof FigureCalculator.Computed.Found found
            ? Optional.of(new FigureDiagnostics(found, isNormal(shape)).detail())
            : Optional.empty());
  }

  /** The figure for units alone, with a remark where that for kits is smaller. */
  private FigureCalculator.Computed besideKits(
      LevelRequest request,
      LevelCurves.Found curves,
      double driftGrams,
      FigureCalculator.Computed computed) {
    Study ofKits = study.withClaim(study.claim().about(ClaimRequest.Subject.KIT));
    if (study.claim().subject() == ClaimRequest.Subject.KIT
        || !(computed instanceof FigureCalculator.Computed.Found own)
        || !(new FigureCalculator(ofKits, calculator.runs(), calculator.sides())
                .figure(request.level(), curves.judged(), curves.correction(), driftGrams)
            instanceof FigureCalculator.Computed.Found kits)) {
      return computed;
    }
    return new PartOfKits(study, own).widerThan(kits).map(own::with).orElse(own);
  }

  /**
   * The figure if the runs that are missing were like the worst ones, and not below the figure
   * itself: each missing run gets the error curve of one of the runs with the largest errors, one
   * after the other, and the whole is fitted anew. A construction of this program.
   */
  private OptionalDouble likeWorst(
      LevelRequest request,
      LevelCurves.Found curves,
      double driftGrams,
      LevelOutcome.Figure figure) {
    ClaimForm form = study.claim().form();
    List<ErrorCurve> worstFirst =
        SubjectRuns.of(study, curves.judged()).stream()
            .sorted(Comparator.comparingDouble((ErrorCurve c) -> -c.largestGrams(form)))
            .toList();
    List<ErrorCurve> filled = new ArrayList<>(curves.judged());
    List<LoadRun> made = new ArrayList<>(calculator.runs());
    List<UnitPair> missing = premises.missingPairs(calculator.runs());
    for (int i = 0; i < missing.size(); i++) {
      UnitPair pair = missing.get(i);
      ErrorCurve worst = worstFirst.get(i % worstFirst.size());
      // no name of a recorded run has a line break
      String name = "missing\n" + i;
      filled.add(new ErrorCurve(name, pair.cell(), pair.board(), worst.points()));
      LoadRun like =
          made.stream().filter(run -> run.name().equals(worst.run())).findFirst().orElseThrow();
      made.add(new LoadRun(name, pair.cell(), pair.board(), like.readings()));
    }
    return new FigureCalculator(study, made, calculator.sides())
                .figure(request.level(), filled, curves.correction(), driftGrams)
            instanceof FigureCalculator.Computed.Found found
        ? OptionalDouble.of(
            Math.max(
                figure.printableGrams(), calculator.roundedOutward(found.outcome().limitGrams())))
        : OptionalDouble.empty();
  }

  private Optional<LevelClaim.Verdict> verdict(List<Level> levels, Level level) {
    if (level.request().wantedGrams().isEmpty()) {
      return Optional.empty();
    }
    double wanted = level.request().wantedGrams().getAsDouble();
    if (!(level.computed() instanceof FigureCalculator.Computed.Found found)) {
      return Optional.of(
          new LevelClaim.Verdict(
              wanted, false, OptionalDouble.empty(), OptionalDouble.empty(), List.of()));
    }
    double margin = wanted - found.outcome().limitGrams();
    List<Remedy> remedies = List.of();
    if (margin < 0 && level.detail().isPresent()) {
      List<LevelRequest> supporting =
          levels.stream()
              .filter(other -> other.limitGrams().orElse(wanted + 1) <= wanted)
              .map(Level::request)
              .toList();
      remedies = new RemedyCalculator(found, level.detail().get(), wanted).all(supporting);
    }
    return Optional.of(
        new LevelClaim.Verdict(
            wanted,
            margin >= 0,
            OptionalDouble.of(margin),
            level
                .detail()
                .map(d -> FigureDiagnostics.confidenceAt(d.confidenceCurve(), wanted))
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty()),
            remedies));
  }
}
