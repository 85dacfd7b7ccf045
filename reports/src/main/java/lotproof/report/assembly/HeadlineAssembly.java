package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.Analysis;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.premise.PlanCoverage;
import lotproof.report.model.Headline;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.SubjectWords;
import lotproof.report.words.TemperatureWords;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Conditions;

/** What a reader learns first. */
final class HeadlineAssembly {
  private HeadlineAssembly() {}

  static Headline of(StudyResult result) {
    ClaimWords words = new ClaimWords(result);
    Optional<LevelClaim> leading = Levels.leading(result.asDecided());
    return new Headline(
        leading.map(words::sentence).orElse(""),
        keyFigure(result.asDecided(), words, leading),
        verdicts(result.asDecided(), words),
        thingsToKnow(result, leading),
        conditions(result));
  }

  private static Headline.KeyFigure keyFigure(
      Analysis analysis, ClaimWords words, Optional<LevelClaim> leading) {
    if (leading.isPresent() && leading.get().outcome() instanceof LevelOutcome.Figure figure) {
      return new Headline.Supported(
          Levels.label(leading.get()),
          Levels.sign(leading.get()),
          CellTexts.exact(figure.printableGrams(), "g"),
          Optional.of(FigureSection.safestCell(analysis, leading.get())),
          FigureSection.explanationId(analysis, leading.get()));
    }
    String reason =
        analysis.claims().stream()
            .map(words::sentence)
            .findFirst()
            .orElse("The study asks for no calibration level.");
    return new Headline.NotSupported("Error of reading", reason);
  }

  private static List<Headline.Verdict> verdicts(Analysis analysis, ClaimWords words) {
    List<Headline.Verdict> verdicts = new ArrayList<>();
    for (LevelClaim claim : analysis.claims()) {
      claim
          .wanted()
          .ifPresent(
              wanted ->
                  verdicts.add(
                      new Headline.Verdict(
                          wanted.supported() ? Headline.Answer.YES : Headline.Answer.NO,
                          claim.form().words(wanted.wantedGrams())
                              + " "
                              + claim.description()
                              + "?",
                          because(words, claim, wanted)
                              .restingOn(FigureSection.explanationId(analysis, claim)))));
    }
    return verdicts;
  }

  private static Prose because(ClaimWords words, LevelClaim claim, LevelClaim.Verdict wanted) {
    if (claim.outcome() instanceof LevelOutcome.Figure figure) {
      double margin = wanted.marginGrams().orElse(0);
      return Prose.of(
          margin >= 0
              ? "The smallest supported figure is {}{}, which leaves a margin of {}."
              : "The smallest supported figure is {}{}; the wanted one is too small by {}.",
          Levels.sign(claim),
          CellTexts.grams(figure.limitGrams()),
          CellTexts.grams(Math.abs(margin)));
    }
    return Prose.text(words.sentence(claim));
  }

  private static List<Prose> thingsToKnow(StudyResult result, Optional<LevelClaim> leading) {
    List<Prose> things = new ArrayList<>();
    things.add(exclusions(result, leading).restingOn("review"));
    missing(result).ifPresent(things::add);
    things.add(lots(result.asDecided().scopes()).restingOn("spread"));
    leading.ifPresent(
        claim ->
            claim
                .figure()
                .ifPresent(
                    figure ->
                        things.add(
                            worst(figure)
                                .restingOn(ErrorSection.pointsId(result.asDecided(), claim)))));
    return things;
  }

  private static Prose exclusions(StudyResult result, Optional<LevelClaim> leading) {
    if (result.excluded().isEmpty()) {
      PlanCoverage coverage = result.asDecided().coverage();
      return coverage.complete()
          ? Prose.text("No unit and no run was excluded; " + AssumptionWords.counts(coverage) + ".")
          : Prose.text(
              "No unit and no run was excluded by a decision, but not all is there: "
                  + AssumptionWords.counts(coverage)
                  + " without a cause.");
    }
    long decisions = result.excluded().stream().map(e -> e.decision().id()).distinct().count();
    Quantity runs = Quantity.count(result.excluded().size());
    Optional<Double> without =
        leading.flatMap(
            claim ->
                Levels.withoutExclusions(result, result.asDecided().claims().indexOf(claim))
                    .map(LevelOutcome.Figure::printableGrams));
    if (without.isEmpty()) {
      return Prose.of(
          "{} runs were excluded by {} decisions; without the exclusions there is no figure.",
          runs,
          Quantity.count(decisions));
    }
    return Prose.of(
        "{} runs were excluded by {} decisions, each with its cause below. With every unit put back"
            + " the figure would be ±{}.",
        runs,
        Quantity.count(decisions),
        CellTexts.exact(without.get(), "g"));
  }

  /** What is missing beside exclusions by decision. */
  private static Optional<Prose> missing(StudyResult result) {
    PlanCoverage coverage = result.asDecided().coverage();
    return result.excluded().isEmpty() || coverage.complete()
        ? Optional.empty()
        : Optional.of(
            Prose.text(
                    "Besides, not all of the plan is there: "
                        + AssumptionWords.counts(coverage)
                        + " without a cause.")
                .restingOn("figure"));
  }

  private static Prose lots(List<LotScope> scopes) {
    LotScope fewest =
        scopes.stream().min(java.util.Comparator.comparingInt(s -> s.lots().size())).orElseThrow();
    String evidence = ClaimWords.evidence(scopes);
    return switch (fewest.wording()) {
      case ONE_LOT ->
          Prose.of(
              "The evidence is {}. One lot proves one lot: variation between {} lots was not"
                  + " observed.",
              evidence,
              fewest.kind().word());
      case FEW_LOTS ->
          Prose.of(
              "The evidence is {}. So few lots cannot bound how lots differ, and the figure is wide"
                  + " because of it.",
              evidence);
      case GENERAL ->
          Prose.of(
              "The evidence is {}. A later lot made with other parts or processes needs a check of"
                  + " its own.",
              evidence);
    };
  }

  private static Prose worst(LevelOutcome.Figure figure) {
    LevelOutcome.PointLimit point = figure.worst();
    LevelOutcome.Contribution largest =
        point.contributions().stream()
            .max(
                java.util.Comparator.comparingDouble(
                    LevelOutcome.Contribution::standardDeviationGrams))
            .orElseThrow();
    return Prose.of(
        "Errors are widest at {} {}; the largest source there is: {} (standard deviation {}).",
        CellTexts.exact(point.loadKilograms(), "kg"),
        point.direction().word(),
        largest.title().toLowerCase(java.util.Locale.ROOT),
        CellTexts.grams(largest.standardDeviationGrams()));
  }

  /** On what cells or boards were whose figure is for them alone. */
  private static Optional<Prose> aboutWhat(StudyResult result) {
    ClaimSubject subject = result.study().claim().subject();
    return subject == ClaimSubject.KIT
        ? Optional.empty()
        : Optional.of(
            Prose.of(
                "The figure is for {} alone, each on {}; a kit has the error of its other half as"
                    + " well.",
                subject.plural(),
                SubjectWords.partner(result.study())));
  }

  private static List<Prose> conditions(StudyResult result) {
    ClaimRequest claim = result.study().claim();
    Conditions conditions = result.study().conditions();
    List<Prose> list = new ArrayList<>();
    list.add(
        Prose.of(
            "Content {} of {}, confidence {}.",
            Quantity.percent(claim.content(), 1),
            claim.subject().plural(),
            Quantity.percent(claim.confidence(), 1)));
    aboutWhat(result).ifPresent(list::add);
    list.add(Prose.of("Temperature {}", TemperatureWords.of(result.asDecided().temperature())));
    list.add(
        Prose.of(
            "Bench masses of class {} (OIML R 111); their limits of error are added to the figure.",
            conditions.benchMassClass().word()));
    String remark = TemperatureWords.remark(result.asDecided().temperature(), conditions);
    if (!remark.isEmpty()) {
      list.add(Prose.text(remark));
    }
    conditions.notes().forEach(note -> list.add(Prose.text(note)));
    return list;
  }
}
