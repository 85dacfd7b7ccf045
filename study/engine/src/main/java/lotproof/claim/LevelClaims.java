package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.review.FarReadings;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.work.Parallel;

/** The claims at all calibration levels of a study, from one set of runs. */
final class LevelClaims {
  private final Study study;
  private final List<ReducedRun> runs;
  private final FigureCalculator calculator;
  private final MissingAsWorst missing;
  private final Premises premises;
  private final List<DataIssue> far;

  /** Claims of a study without supplementary tests. */
  LevelClaims(Study study, List<ReducedRun> runs) {
    this(study, runs, SideAllowances.NONE, Premises.ofRuns(runs.size()));
  }

  LevelClaims(Study study, List<ReducedRun> runs, SideAllowances sides, Premises premises) {
    this.study = study;
    this.runs = runs;
    this.premises = premises;
    List<LoadRun> loadRuns = runs.stream().map(ReducedRun::run).toList();
    this.calculator = new FigureCalculator(study, loadRuns, sides);
    this.missing = new MissingAsWorst(study, loadRuns, premises, sides);
    this.far = FarReadings.of(study.kit(), loadRuns);
  }

  /** One level before levels are compared. */
  private record Level(
      ClaimRequest.LevelRequest request,
      List<ErrorCurve> curves,
      FigureCalculator.Computed computed,
      List<Assumption> assumptions,
      Optional<FigureDetail> detail) {
    OptionalDouble limitGrams() {
      return computed instanceof FigureCalculator.Computed.Found found
          ? OptionalDouble.of(found.outcome().limitGrams())
          : OptionalDouble.empty();
    }

    Level with(FigureDetail found) {
      return new Level(request, curves, computed, assumptions, Optional.of(found));
    }
  }

  /**
   * The claims in study order.
   *
   * @param details whether curves, budget and influence stand beside each figure
   */
  List<LevelClaim> all(boolean details) {
    List<Level> levels = Parallel.map(study.claim().levels(), request -> level(request, details));
    return IntStream.range(0, levels.size()).mapToObj(i -> claim(levels, i)).toList();
  }

  /** The curves behind the figure of one level, if it has one. */
  Optional<EstimatedCurves> curves(ClaimRequest.LevelRequest request) {
    return level(request, false).computed() instanceof FigureCalculator.Computed.Found found
        ? Optional.of(EstimatedCurves.of(found))
        : Optional.empty();
  }

  private Level level(ClaimRequest.LevelRequest request, boolean details) {
    if (!far.isEmpty()) {
      return none(request, List.of(), new Refusal.FarReadings(far));
    }
    LevelCurves known = LevelCurves.of(study, runs, request);
    if (!(known instanceof LevelCurves.Found curves)) {
      return none(request, List.of(), ((LevelCurves.None) known).why());
    }
    Optional<Assumption> refusal = premises.refusal();
    if (refusal.isPresent()) {
      return none(request, curves.judged(), new Refusal.Assumed(refusal.get()));
    }
    Level level = withDrift(request, curves);
    return details && level.computed() instanceof FigureCalculator.Computed.Found found
        ? level.with(new FigureDiagnostics(study, found).detail())
        : level;
  }

  private Level none(ClaimRequest.LevelRequest request, List<ErrorCurve> curves, Refusal why) {
    return none(request, curves, why, premises.lots());
  }

  private Level none(
      ClaimRequest.LevelRequest request,
      List<ErrorCurve> curves,
      Refusal why,
      List<LotsAndDays> lots) {
    return new Level(
        request,
        curves,
        new FigureCalculator.Computed.None(new LevelOutcome.NoFigure(why)),
        general(lots),
        Optional.empty());
  }

  /** What holds for all levels alike. */
  private List<Assumption> general(List<LotsAndDays> lots) {
    List<Assumption> general = new ArrayList<>(premises.pairing());
    premises.missing().ifPresent(general::add);
    general.addAll(lots);
    return general;
  }

  /** The figure with what a drift may hide of lots, where it is known and small. */
  private Level withDrift(ClaimRequest.LevelRequest request, LevelCurves.Found curves) {
    List<LotsAndDays> lots = new ArrayList<>();
    double hidden = 0;
    for (LotsAndDays found : premises.lots()) {
      Drift drift =
          premises.drift().orElseThrow().hidden(found.kind(), request.level(), curves.correction());
      if (!(drift instanceof Drift.Bounded bounded)) {
        LotsAndDays asked = found.with(Effect.NO_FIGURE, drift);
        return none(request, curves.judged(), new Refusal.Assumed(asked));
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
    List<Assumption> all = new ArrayList<>(premises.pairing());
    premises.missing().map(m -> likeWorst(m, request, curves, computed)).ifPresent(all::add);
    all.addAll(lots);
    return new Level(request, curves.judged(), computed, all, Optional.empty());
  }

  private RunsMissing likeWorst(
      RunsMissing found,
      ClaimRequest.LevelRequest request,
      LevelCurves.Found curves,
      FigureCalculator.Computed computed) {
    if (!(computed instanceof FigureCalculator.Computed.Found figure)) {
      return found;
    }
    double drift = figure.outcome().guards().of(GuardBands.Kind.DRIFT);
    OptionalDouble bound =
        missing.boundGrams(request.level(), curves.judged(), curves.correction(), drift);
    OptionalDouble rounded =
        bound.isPresent()
            ? OptionalDouble.of(
                Math.max(
                    figure.outcome().printableGrams(),
                    calculator.roundedOutward(bound.getAsDouble())))
            : bound;
    return new RunsMissing(
        found.effect(), found.runs(), found.units(), found.shareFraction(), rounded);
  }

  private LevelClaim claim(List<Level> levels, int index) {
    Level level = levels.get(index);
    return new LevelClaim(
        level.request().level(),
        level.request().temperatureCorrection(),
        study.claim().form(),
        level.computed().outcome(),
        level.detail(),
        verdict(levels, index),
        premises.coverage(),
        level.assumptions(),
        level.curves());
  }

  private Optional<LevelClaim.Verdict> verdict(List<Level> levels, int index) {
    Level level = levels.get(index);
    if (level.request().wantedGrams().isEmpty()) {
      return Optional.empty();
    }
    double wanted = level.request().wantedGrams().getAsDouble();
    OptionalDouble bound = level.limitGrams();
    if (bound.isEmpty()) {
      return Optional.of(
          new LevelClaim.Verdict(
              wanted, false, OptionalDouble.empty(), OptionalDouble.empty(), List.of()));
    }
    double margin = wanted - bound.getAsDouble();
    OptionalDouble confidence =
        level.detail().isPresent()
            ? OptionalDouble.of(
                FigureDiagnostics.confidenceAt(level.detail().get().confidenceCurve(), wanted))
            : OptionalDouble.empty();
    return Optional.of(
        new LevelClaim.Verdict(
            wanted,
            margin >= 0,
            OptionalDouble.of(margin),
            confidence,
            margin >= 0 ? List.of() : remedies(levels, index, wanted)));
  }

  private List<Remedy> remedies(List<Level> levels, int index, double wanted) {
    Level level = levels.get(index);
    if (level.detail().isEmpty()
        || !(level.computed() instanceof FigureCalculator.Computed.Found found)) {
      return List.of();
    }
    List<ClaimRequest.LevelRequest> supporting =
        levels.stream()
            .filter(
                other -> !other.equals(level) && other.limitGrams().orElse(wanted + 1) <= wanted)
            .map(Level::request)
            .toList();
    return new RemedyCalculator(study, found, level.detail().get(), wanted).all(supporting);
  }
}
