package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.claim.premise.Assumption;
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
  private final ClaimSentence sentence;
  private final FigureCalculator calculator;
  private final MissingAsWorst missing;
  private final Premises premises;
  private final List<DataIssue> far;

  /** Claims of a study without side tests. */
  LevelClaims(Study study, List<ReducedRun> runs, ClaimSentence sentence) {
    this(study, runs, sentence, SideAllowances.NONE, Premises.ofRuns(runs.size()));
  }

  LevelClaims(
      Study study,
      List<ReducedRun> runs,
      ClaimSentence sentence,
      SideAllowances sides,
      Premises premises) {
    this.study = study;
    this.runs = runs;
    this.sentence = sentence;
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
    OptionalDouble boundGrams() {
      return computed instanceof FigureCalculator.Computed.Found found
          ? OptionalDouble.of(found.outcome().boundGrams())
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
      return none(request, FarReadings.because(far));
    }
    LevelCurves known = LevelCurves.of(study, runs, request);
    if (!(known instanceof LevelCurves.Found curves)) {
      return none(request, ((LevelCurves.None) known).reason());
    }
    Optional<Assumption> refusal = premises.refusal();
    if (refusal.isPresent()) {
      String reason = AssumptionWords.refusal(refusal.get(), premises.coverage());
      return new Level(
          request,
          curves.judged(),
          none(reason, refusal),
          general(premises.lots()),
          Optional.empty());
    }
    Level level = withDrift(request, curves);
    return details && level.computed() instanceof FigureCalculator.Computed.Found found
        ? level.with(new FigureBackground(study, found).detail())
        : level;
  }

  private static FigureCalculator.Computed none(String reason, Optional<Assumption> assumption) {
    return new FigureCalculator.Computed.None(new LevelOutcome.NoFigure(reason, assumption));
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
      LotDrift.Outcome outcome =
          premises.drift().orElseThrow().hidden(found.kind(), request.level(), curves.correction());
      if (!(outcome instanceof LotDrift.Outcome.Bounded bounded)) {
        String why = ((LotDrift.Outcome.NotBounded) outcome).reason();
        String reason = AssumptionWords.refusal(found, why);
        return new Level(
            request,
            curves.judged(),
            none(reason, Optional.of(found)),
            general(premises.lots()),
            Optional.empty());
      }
      hidden += bounded.grams();
      lots.add(found.with(Effect.ALLOWANCE, OptionalDouble.of(bounded.grams())));
    }
    FigureCalculator.Computed computed =
        calculator.figure(request.level(), curves.judged(), curves.correction(), hidden);
    if (computed instanceof FigureCalculator.Computed.Found found
        && hidden > LotDrift.LARGEST_SHARE * (found.outcome().boundGrams() - hidden)) {
      lots.replaceAll(lot -> lot.with(Effect.NO_FIGURE, lot.hiddenGrams()));
      LotsAndDays first = lots.get(0);
      String why =
          "by the check standard up to "
              + Numbers.digits(hidden, 3)
              + " g of it may hide, more than a fifth of the figure";
      return new Level(
          request,
          curves.judged(),
          none(AssumptionWords.refusal(first, why), Optional.of(first)),
          general(lots),
          Optional.empty());
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
    double drift = figure.outcome().driftGrams();
    OptionalDouble bound =
        missing.boundGrams(request.level(), curves.judged(), curves.correction(), drift);
    OptionalDouble rounded =
        bound.isPresent()
            ? OptionalDouble.of(
                Math.max(
                    figure.outcome().safestGrams(), calculator.roundedOutward(bound.getAsDouble())))
            : bound;
    return new RunsMissing(
        found.effect(), found.runs(), found.units(), found.shareFraction(), rounded);
  }

  private Level none(ClaimRequest.LevelRequest request, String reason) {
    return new Level(
        request,
        List.of(),
        none(reason, Optional.empty()),
        general(premises.lots()),
        Optional.empty());
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
        sentence.of(level.request(), level.computed().outcome(), level.assumptions()),
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
    OptionalDouble bound = level.boundGrams();
    if (bound.isEmpty()) {
      return Optional.of(
          new LevelClaim.Verdict(
              wanted, false, OptionalDouble.empty(), OptionalDouble.empty(), List.of()));
    }
    double margin = wanted - bound.getAsDouble();
    OptionalDouble confidence =
        level.detail().isPresent()
            ? OptionalDouble.of(
                FigureBackground.confidenceAt(level.detail().get().confidenceCurve(), wanted))
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
    List<String> supporting = new ArrayList<>();
    for (int i = 0; i < levels.size(); i++) {
      Level other = levels.get(i);
      boolean supports =
          other.boundGrams().isPresent() && other.boundGrams().getAsDouble() <= wanted;
      if (i != index && supports) {
        supporting.add(
            other.request().level().description()
                + (other.request().temperatureCorrection().isPresent()
                    ? ", corrected for temperature"
                    : ""));
      }
    }
    return new Remedies(study, found, level.detail().get(), wanted).all(supporting);
  }
}
