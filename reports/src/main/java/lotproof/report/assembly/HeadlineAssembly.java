package lotproof.report.assembly;

import static lotproof.report.model.Format.EXACT;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.claim.TakenOut;
import lotproof.report.model.Headline;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.StudyWords;
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
        headline.sentence(),
        headline
            .leading
            .filter(level -> level.figure().isPresent())
            .map(level -> headline.words.sentence(level.claim()))
            .orElse(""),
        headline.keyFigure(),
        headline.verdicts(),
        headline.leading.map(Risks::of).orElse(List.of()).stream().map(Level.Risk::prose).toList(),
        headline.conditions());
  }

  private Headline.Sentence sentence() {
    ClaimRequest.Subject subject = result.study().claim().subject();
    String alone = subject == ClaimRequest.Subject.KIT ? "" : " for " + subject.plural() + " alone";
    if (leading.isEmpty()) {
      return new Headline.Sentence(
          "Which figure can be printed" + alone + "?",
          Headline.Answer.NO,
          "None.",
          "The study asks for no calibration level.");
    }
    ReportedLevel level = leading.get();
    String question =
        level
            .claim()
            .wanted()
            .map(wanted -> "Print " + level.form().words(wanted.wantedGrams()) + alone + "?")
            .orElse("Which figure can be printed" + alone + "?");
    if (level.claim().outcome() instanceof LevelOutcome.NoFigure none) {
      return new Headline.Sentence(
          question,
          Headline.Answer.NO,
          AssumptionWords.shortage(none.why(), subject),
          words.sentence(level.claim()));
    }
    Figure figure = level.safest();
    String printable = level.form().words(figure.printableGrams());
    if (level.claim().wanted().isEmpty()) {
      String reply = printable + ", " + level.after() + ".";
      return new Headline.Sentence(question, Headline.Answer.YES, reply, "");
    }
    LevelClaim.Verdict wanted = level.claim().wanted().get();
    double theseLots = figure.withinTheseLotsGrams().orElse(Double.MAX_VALUE);
    boolean lotsAlone = !wanted.supported() && theseLots <= wanted.wantedGrams();
    return new Headline.Sentence(
        question,
        wanted.supported() ? Headline.Answer.YES : Headline.Answer.NO,
        wanted.supported()
            ? "Yes, " + level.after() + "."
            : lotsAlone ? "Not enough lots." : "No, not " + level.after() + ".",
        text(
            "The data support %s%s.",
            printable, lotsAlone ? "; for these lots alone " + level.form().words(theseLots) : ""));
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
        leading
            .map(level -> words.sentence(level.claim()))
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

  private static Quantity grams(double grams) {
    return Quantity.significant(grams, "g", 3);
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
