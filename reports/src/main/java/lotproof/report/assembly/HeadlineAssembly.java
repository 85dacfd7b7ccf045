package lotproof.report.assembly;

import static lotproof.report.model.Format.EXACT;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.claim.FigureChange;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.StudyResult;
import lotproof.claim.TakenOut;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.NotNormal;
import lotproof.claim.premise.PlanCoverage;
import lotproof.report.model.Headline;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.ReviewWords;
import lotproof.report.words.StudyWords;
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;

/** What a reader learns first. */
final class HeadlineAssembly {
  private final StudyResult result;
  private final ClaimWords words;
  private final Optional<ReportedLevel> leading;

  private HeadlineAssembly(StudyResult result) {
    this.result = result;
    this.words = new ClaimWords(result);
    this.leading = ReportedLevel.leading(result);
  }

  static Headline of(StudyResult result) {
    HeadlineAssembly headline = new HeadlineAssembly(result);
    return new Headline(
        headline.leading.map(level -> headline.words.sentence(level.claim())).orElse(""),
        headline.keyFigure(),
        headline.verdicts(),
        headline.thingsToKnow(),
        headline.conditions());
  }

  private Headline.KeyFigure keyFigure() {
    if (leading.isPresent() && leading.get().figure().isPresent()) {
      ReportedLevel level = leading.get();
      return new Headline.Supported(
          level.meaning(),
          level.sign(),
          new Quantity(level.safest().printableGrams(), "g", EXACT),
          Optional.of(FigureSection.safestCell(level)),
          level.explanationId());
    }
    return new Headline.NotSupported(
        "Error of reading",
        result.asDecided().claims().stream()
            .map(words::sentence)
            .findFirst()
            .orElse("The study asks for no calibration level."));
  }

  private List<Headline.Verdict> verdicts() {
    List<Headline.Verdict> verdicts = new ArrayList<>();
    for (ReportedLevel level : ReportedLevel.of(result)) {
      if (level.claim().wanted().isPresent()) {
        LevelClaim.Verdict wanted = level.claim().wanted().get();
        String figure = level.form().words(wanted.wantedGrams());
        verdicts.add(
            new Headline.Verdict(
                wanted.supported() ? Headline.Answer.YES : Headline.Answer.NO,
                figure + " " + level.claim().description() + "?",
                because(level, wanted, figure).restingOn(level.explanationId())));
      }
    }
    return verdicts;
  }

  private Prose because(ReportedLevel level, LevelClaim.Verdict wanted, String figure) {
    if (level.figure().isEmpty()) {
      return Prose.text(words.sentence(level.claim()));
    }
    double margin = wanted.marginGrams().orElse(0);
    return margin >= 0
        ? Prose.of(
            "Smallest figure that the data support: {}{}. Margin {} ({}).{}",
            level.sign(),
            grams(level.safest().limitGrams()),
            grams(margin),
            Quantity.percent(margin / wanted.wantedGrams(), 0),
            leftIn(level))
        : Prose.of(
            "{} is {} too tight; print {} or calibrate more.{}",
            figure,
            grams(-margin),
            level.form().words(level.safest().printableGrams()),
            leftIn(level));
  }

  /** What the figure of a level would be with what was left out, and whether that is extreme. */
  private String leftIn(ReportedLevel level) {
    if (result.excluded().isEmpty()) {
      return "";
    }
    boolean extremes =
        result.changes().get(level.index()).takenOut().stream().anyMatch(TakenOut::extremes);
    return text(
        " Leaving the exclusions in: %s%s.",
        level
            .withoutExclusions()
            .map(without -> level.form().words(without.printableGrams()))
            .orElse("no figure"),
        extremes ? "; they are the extremes of this level" : "");
  }

  private List<Prose> thingsToKnow() {
    PlanCoverage coverage = result.asDecided().coverage();
    List<Prose> things = new ArrayList<>();
    things.add(exclusions(coverage).restingOn("review"));
    extremes().ifPresent(left -> things.add(left.restingOn("left-out")));
    if (!result.excluded().isEmpty() && !coverage.complete()) {
      things.add(
          Prose.of(
                  "Besides, not all of the plan is there: {} without a cause.",
                  AssumptionWords.counts(coverage))
              .restingOn("figure"));
    }
    notNormal().ifPresent(shape -> things.add(shape.restingOn("figure")));
    things.add(lots().restingOn("spread"));
    leading
        .filter(level -> level.figure().isPresent())
        .ifPresent(level -> things.add(worst(level.safest()).restingOn(level.pointsId())));
    return things;
  }

  /** Levels at which errors are not normal and independent kits carry the figure. */
  private Optional<Prose> notNormal() {
    List<String> levels = new ArrayList<>();
    for (LevelClaim claim : result.asDecided().claims()) {
      claim.assumptions().stream()
          .filter(found -> found instanceof NotNormal && found.effect() == Effect.SHOWN)
          .map(
              found ->
                  AssumptionWords.notNormal((NotNormal) found, result.study().claim().subject()))
          .forEach(words -> levels.add(claim.label() + ": " + words));
    }
    return levels.isEmpty()
        ? Optional.empty()
        : Optional.of(
            Prose.of("The errors are not normal in shape. {}.", String.join("; ", levels)));
  }

  private Prose exclusions(PlanCoverage coverage) {
    if (result.excluded().isEmpty()) {
      return Prose.of(
          coverage.complete()
              ? "No unit and no run was excluded; {}."
              : "No unit and no run was excluded by a decision, but not all is there: {} without a"
                  + " cause.",
          AssumptionWords.counts(coverage));
    }
    List<String> decisions =
        result.excluded().stream()
            .map(DecidedRuns.Excluded::decision)
            .distinct()
            .map(d -> d.serial() + ", " + d.cause())
            .toList();
    int runs = result.excluded().size();
    return Prose.of(
        "{} left out by {}: {}. That is {}. Leaving them in: {}.",
        runs == 1 ? "1 run is" : runs + " runs are",
        decisions.size() == 1 ? "1 decision" : decisions.size() + " decisions",
        String.join("; ", decisions),
        result.changes().stream()
            .map(FigureChange::takenOut)
            .filter(out -> !out.isEmpty())
            .findFirst()
            .map(ReviewWords::shares)
            .orElse("nothing of the load runs"),
        ReportedLevel.of(result).stream()
            .map(
                level ->
                    level.label()
                        + " "
                        + level
                            .withoutExclusions()
                            .map(without -> level.form().words(without.printableGrams()))
                            .orElse("no figure"))
            .collect(Collectors.joining(", ")));
  }

  /** Whether the extremes were left out, by level; empty where nothing left out was extreme. */
  private Optional<Prose> extremes() {
    List<String> levels = new ArrayList<>();
    boolean extreme = false;
    for (ReportedLevel level : ReportedLevel.of(result)) {
      List<TakenOut> out =
          result.changes().get(level.index()).takenOut().stream()
              .filter(kind -> kind.farthest() > 0)
              .toList();
      if (!out.isEmpty()) {
        levels.add(level.label() + " " + ReviewWords.farthest(out));
        extreme |= out.stream().anyMatch(TakenOut::extremes);
      }
    }
    return levels.isEmpty()
        ? Optional.empty()
        : Optional.of(
            Prose.of(
                "{}Among the farthest of their kind were, of what is left out: {}.",
                extreme ? "The extremes are left out. " : "",
                String.join("; ", levels)));
  }

  private Prose lots() {
    List<LotScope> scopes = result.asDecided().scopes();
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

  private static Prose worst(Figure figure) {
    PointLimit point = figure.worst();
    Contribution largest =
        point.contributions().stream()
            .max(Comparator.comparingDouble(Contribution::standardDeviationGrams))
            .orElseThrow();
    return Prose.of(
        "The error is largest at {} {}: mean {} on every kit; most of the spread comes from: {}"
            + " (standard deviation {}).",
        new Quantity(point.loadKilograms(), "kg", EXACT),
        point.direction().word(),
        grams(point.meanGrams()),
        largest.title().toLowerCase(Locale.ROOT),
        grams(largest.standardDeviationGrams()));
  }

  private List<Prose> conditions() {
    ClaimRequest claim = result.study().claim();
    Conditions conditions = result.study().conditions();
    List<Prose> list = new ArrayList<>();
    list.add(
        Prose.of(
            "Content {} of {}, confidence {}.",
            Quantity.percent(claim.content(), 1),
            claim.subject().plural(),
            Quantity.percent(claim.confidence(), 1)));
    if (claim.subject() != ClaimRequest.Subject.KIT) {
      list.add(
          Prose.of(
              "The figure is for {} alone, each on {}; a kit has the error of its other half as"
                  + " well.",
              claim.subject().plural(),
              StudyWords.partner(result.study())));
    }
    list.add(Prose.of("Temperature {}", StudyWords.temperature(result.asDecided().temperature())));
    list.add(
        Prose.of(
            "Test weights: class {} (OIML R 111); their tolerance is included.",
            conditions.benchMassClass().key()));
    String remark = StudyWords.temperatureRemark(result.asDecided().temperature(), conditions);
    if (!remark.isEmpty()) {
      list.add(Prose.text(remark));
    }
    conditions.notes().forEach(note -> list.add(Prose.text(note)));
    return list;
  }
}
