package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
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
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimRequest;
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
                          text(
                              "%s %s?",
                              claim.form().words(wanted.wantedGrams()), claim.description()),
                          because(words, claim, wanted)
                              .restingOn(FigureSection.explanationId(analysis, claim)))));
    }
    return verdicts;
  }

  private static Prose because(ClaimWords words, LevelClaim claim, LevelClaim.Verdict wanted) {
    if (claim.outcome() instanceof LevelOutcome.Figure figure) {
      double margin = wanted.marginGrams().orElse(0);
      if (margin >= 0) {
        return Prose.of(
            "Smallest figure that the data support: {}{}. Margin {} ({}).",
            Levels.sign(claim),
            grams(figure.limitGrams()),
            grams(margin),
            Quantity.percent(margin / wanted.wantedGrams(), 0));
      }
      return Prose.of(
          "{} is {} too tight; print {} or calibrate more.",
          claim.form().words(wanted.wantedGrams()),
          grams(-margin),
          claim.form().words(figure.printableGrams()));
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
              text(
                  "No unit and no run was excluded by a decision, but not all is there: %s without"
                      + " a cause.",
                  AssumptionWords.counts(coverage)));
    }
    List<String> decisions =
        result.excluded().stream()
            .map(DecidedRuns.Excluded::decision)
            .distinct()
            .map(d -> d.serial() + ", " + d.cause())
            .toList();
    int runs = result.excluded().size();
    return Prose.of(
        "{} left out by {}: {}. {}",
        runs == 1 ? "1 run is" : runs + " runs are",
        decisions.size() == 1 ? "1 decision" : decisions.size() + " decisions",
        String.join("; ", decisions),
        leading
            .flatMap(
                claim ->
                    Levels.withoutExclusions(result, result.asDecided().claims().indexOf(claim))
                        .map(without -> claim.form().words(without.printableGrams())))
            .map(figure -> "Leaving them in: " + figure + ".")
            .orElse("Leaving them in there is no figure."));
  }

  /** What is missing beside exclusions by decision. */
  private static Optional<Prose> missing(StudyResult result) {
    PlanCoverage coverage = result.asDecided().coverage();
    return result.excluded().isEmpty() || coverage.complete()
        ? Optional.empty()
        : Optional.of(
            Prose.text(
                    text(
                        "Besides, not all of the plan is there: %s without a cause.",
                        AssumptionWords.counts(coverage)))
                .restingOn("figure"));
  }

  private static Prose lots(List<LotScope> scopes) {
    LotScope fewest =
        scopes.stream().min(Comparator.comparingInt(s -> s.lots().size())).orElseThrow();
    String evidence = ClaimWords.evidence(scopes);
    return switch (fewest.wording()) {
      case ONE_LOT ->
          Prose.of(
              "The evidence is {}. One lot proves one lot: variation between {} lots was not"
                  + " observed.",
              evidence,
              fewest.kind().key());
      case FEW_LOTS ->
          Prose.of(
              "The evidence is {}. So few lots cannot bound how lots differ, and the figure is wide"
                  + " because of it.",
              evidence);
      case GENERAL ->
          Prose.of(
              "The evidence is {}. Check each new lot before you use the figure for it.", evidence);
    };
  }

  private static Quantity grams(double grams) {
    return Quantity.significant(grams, "g", 3);
  }

  private static Prose worst(LevelOutcome.Figure figure) {
    LevelOutcome.PointLimit point = figure.worst();
    LevelOutcome.Contribution largest =
        point.contributions().stream()
            .max(Comparator.comparingDouble(LevelOutcome.Contribution::standardDeviationGrams))
            .orElseThrow();
    return Prose.of(
        "The error is largest at {} {}: mean {} on every kit; most of the spread comes from: {}"
            + " (standard deviation {}).",
        CellTexts.exact(point.loadKilograms(), "kg"),
        point.direction().word(),
        grams(point.meanGrams()),
        largest.title().toLowerCase(Locale.ROOT),
        grams(largest.standardDeviationGrams()));
  }

  /** On what cells or boards were whose figure is for them alone. */
  private static Optional<Prose> aboutWhat(StudyResult result) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    return subject == ClaimRequest.Subject.KIT
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
            "Test weights: class {} (OIML R 111); their tolerance is included.",
            conditions.benchMassClass().key()));
    String remark = TemperatureWords.remark(result.asDecided().temperature(), conditions);
    if (!remark.isEmpty()) {
      list.add(Prose.text(remark));
    }
    conditions.notes().forEach(note -> list.add(Prose.text(note)));
    return list;
  }
}
