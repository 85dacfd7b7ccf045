package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ReducedRun;
import lotproof.review.FarReadings;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.work.SideBySide;

/** The claims at all calibration levels of a study, from one set of runs. */
final class LevelClaims {
  private final Study study;
  private final List<ReducedRun> runs;
  private final ClaimSentence sentence;
  private final FigureCalculator calculator;
  private final List<DataIssue> far;

  /** Claims of a study without side tests. */
  LevelClaims(Study study, int draws, List<ReducedRun> runs, ClaimSentence sentence) {
    this(study, draws, runs, sentence, SideAllowances.NONE);
  }

  LevelClaims(
      Study study, int draws, List<ReducedRun> runs, ClaimSentence sentence, SideAllowances sides) {
    this.study = study;
    this.runs = runs;
    this.sentence = sentence;
    this.calculator = new FigureCalculator(study, runs, draws, sides);
    this.far = FarReadings.of(study.kit(), runs.stream().map(ReducedRun::run).toList());
  }

  /** One level before levels are compared. */
  private record Level(
      ClaimRequest.LevelRequest request,
      List<ErrorCurve> curves,
      FigureCalculator.Computed computed,
      Optional<FigureDetail> detail) {
    OptionalDouble boundGrams() {
      return computed instanceof FigureCalculator.Computed.Found found
          ? OptionalDouble.of(found.outcome().boundGrams())
          : OptionalDouble.empty();
    }
  }

  /**
   * The claims in study order.
   *
   * @param details whether curves, budget and influence stand beside each figure
   */
  List<LevelClaim> all(boolean details) {
    List<Level> levels = SideBySide.map(study.claim().levels(), request -> level(request, details));
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
    FigureCalculator.Computed computed =
        calculator.figure(request.level(), curves.judged(), curves.correction());
    Optional<FigureDetail> detail =
        details && computed instanceof FigureCalculator.Computed.Found found
            ? Optional.of(new FigureBackground(study, found).detail())
            : Optional.empty();
    return new Level(request, curves.judged(), computed, detail);
  }

  private static Level none(ClaimRequest.LevelRequest request, String reason) {
    return new Level(
        request,
        List.of(),
        new FigureCalculator.Computed.None(new LevelOutcome.NoFigure(reason)),
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
        sentence.of(level.request(), level.computed().outcome()),
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
