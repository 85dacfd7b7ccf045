package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.List;
import java.util.stream.Collectors;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.draft.DraftReport;
import lotproof.claim.draft.DraftReport.Finding;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.study.ClaimRequest;

/** What is wrong with a draft claim, in sentences. */
public final class DraftWords {
  private final StudyResult result;
  private final DraftReport report;
  private final ClaimRequest request;

  /** Speaks of a draft that was held against a study. */
  public DraftWords(StudyResult result, DraftReport report) {
    this.result = result;
    this.report = report;
    this.request = result.study().claim();
  }

  /** The sentence that the study supports at the level of the draft; empty without a level. */
  public String instead() {
    return report.level().isPresent() ? new ClaimWords(result).sentence(claim()) : "";
  }

  private LevelClaim claim() {
    return result.asDecided().claims().get(report.level().orElseThrow());
  }

  /** A finding: what sort it is, what it is about, and what would be right. */
  public String of(Finding finding) {
    String kind =
        switch (finding.problem().kind()) {
          case NOT_STATED -> "not stated";
          case OVERSTATED -> "overstated";
          case WORDS -> "words";
        };
    return kind + ", " + about(finding) + ": " + message(finding);
  }

  private String about(Finding finding) {
    return switch (finding.problem()) {
      case LEVEL_NOT_STATED, LEVEL_NOT_JUDGED -> "calibration level";
      case OTHER_FORM -> "form of the figure";
      case FIGURE_NOT_STATED, NO_FIGURE_AT_LEVEL, FIGURE_TOO_SMALL -> "figure";
      case TYPICAL -> "typical";
      case LOADS_NOT_STATED, LOADS_BEYOND_TESTED -> "loads";
      case LOADS_BETWEEN -> "loads between";
      case TEMPERATURE_NOT_STATED,
          ANY_TEMPERATURE,
          TEMPERATURE_NOT_RECORDED,
          TEMPERATURE_BEYOND_SEEN ->
          "temperature";
      case CORRECTION_NOT_STATED -> "temperature correction";
      case CONTENT_NOT_STATED, CONTENT_EVERY_UNIT, CONTENT_TOO_LARGE -> "content";
      case SUBJECT_NOT_STATED, SUBJECT_IS_KIT -> "what it is for";
      case PARTNER_NOT_STATED -> "partner";
      case MATCHING_NOT_STATED, ANY_PAIRING -> "matched kits";
      case CONFIDENCE_NOT_STATED, CONFIDENCE_TOO_LARGE -> "confidence";
      case ONE_LOT_NOT_STATED, ALL_LOTS -> finding.lots().orElseThrow().key() + " lots";
      case EXCLUSIONS_NOT_STATED -> "exclusions";
      case GUARANTEED -> "guaranteed";
      case ACCURACY -> "accuracy";
      case APPROVAL -> "approval";
      case USE -> "use";
    };
  }

  private String message(Finding finding) {
    String subject = request.subject().key();
    String content = percent(request.content()) + " % of " + request.subject().plural();
    String confidence = percent(request.confidence()) + " %";
    List<Double> said = finding.said();
    return switch (finding.problem()) {
      case LEVEL_NOT_STATED ->
          text(
              "It does not say what the buyer has done before reading. This study judged: %s.",
              result.asDecided().claims().stream()
                  .map(LevelClaim::description)
                  .collect(Collectors.joining("; ")));
      case LEVEL_NOT_JUDGED -> "The study does not judge this level.";
      case OTHER_FORM ->
          text(
              "The study was made for a figure of the form %s; a figure of another form needs its"
                  + " own study.",
              request.form().words(request.roundingGrams()));
      case FIGURE_NOT_STATED -> "It names no figure in grams, kilograms or % of capacity.";
      case NO_FIGURE_AT_LEVEL -> "The study supports no figure at that level.";
      case FIGURE_TOO_SMALL ->
          text(
              "%s is smaller than the study supports %s: the printable figure is %s.",
              request.form().words(said.get(0)),
              claim().description(),
              request.form().words(claim().figure().orElseThrow().printableGrams()));
      case TYPICAL ->
          text(
              "A typical value promises nothing for any %s; a buyer will read it as a promise. Half"
                  + " of the tested %ss stay within %s",
              subject,
              subject,
              claim().detail().map(d -> digits(d.typicalGrams(), 3) + " g.").orElse("the median."));
      case LOADS_NOT_STATED ->
          "It does not say for which loads; the study tested " + tested() + " kg.";
      case LOADS_BEYOND_TESTED ->
          "It speaks of " + range(said) + " kg; the study tested " + tested() + " kg.";
      case LOADS_BETWEEN ->
          "The tested loads do not show how the error curve bends, so only the tested loads may be"
              + " named.";
      case TEMPERATURE_NOT_STATED ->
          "It does not say at which temperature; the study holds at " + temperature() + ".";
      case ANY_TEMPERATURE -> "The study holds at " + temperature() + " only.";
      case TEMPERATURE_NOT_RECORDED -> "No temperature was recorded, so none can be named.";
      case TEMPERATURE_BEYOND_SEEN ->
          "It speaks of " + range(said) + " °C; the study holds at " + temperature() + ".";
      case CORRECTION_NOT_STATED ->
          "It does not say that readings are corrected for temperature; without that the figure"
              + " does not hold.";
      case CONTENT_NOT_STATED ->
          text(
              "It does not say for how many %ss; the study supports at least %s.",
              subject, content);
      case CONTENT_EVERY_UNIT ->
          "It speaks of every " + subject + "; the study supports " + content + ".";
      case CONTENT_TOO_LARGE ->
          text(
              "It speaks of %s %% of %ss; the figure was found for %s %%.",
              percent(said.get(0)), subject, percent(request.content()));
      case MATCHING_NOT_STATED ->
          "It does not say that it is for kits whose board was matched to its cell.";
      case ANY_PAIRING ->
          "It speaks of any cell or any board; the figure is for kits whose board was matched to"
              + " its cell.";
      case CONFIDENCE_NOT_STATED ->
          text(
              "It does not say how sure the statement is; the study gives %s confidence.",
              confidence);
      case CONFIDENCE_TOO_LARGE ->
          text(
              "It speaks of %s %% confidence; the figure was found with %s.",
              percent(said.get(0)), confidence);
      case SUBJECT_IS_KIT ->
          text(
              "It speaks of kits or scales; the figure is for %ss alone, each on %s.",
              subject, StudyWords.partner(result.study()));
      case SUBJECT_NOT_STATED ->
          text(
              "It does not say that it is for %ss alone, each on %s.",
              subject, StudyWords.partner(result.study()));
      case PARTNER_NOT_STATED ->
          text(
              "It does not say that the %ss were on %s; with another partner the error is larger.",
              subject, StudyWords.partner(result.study()));
      case ONE_LOT_NOT_STATED -> "It does not say that it holds for " + lot(finding) + " only.";
      case ALL_LOTS -> "It speaks of all lots; only " + lot(finding) + " was studied.";
      case EXCLUSIONS_NOT_STATED ->
          "Units or runs were excluded by decision; the footnote has to name them and their"
              + " causes.";
      case GUARANTEED ->
          text(
              "A figure from a sample is no guarantee for a %s; only a test of every shipped %s"
                  + " with a guard band is.",
              subject, subject);
      case ACCURACY ->
          "The bare word accuracy says nothing; write \"reading error\" and after which"
              + " calibration.";
      case APPROVAL -> "No study of this kind makes a scale legal for trade or certifies anything.";
      case USE -> "Medical use, dosing, lifting and safety functions are not covered.";
    };
  }

  private static String range(List<Double> ends) {
    return plain(ends.get(0)) + " to " + plain(ends.get(1));
  }

  private String tested() {
    List<Double> loads = result.study().design().loadsKilograms().stream().sorted().toList();
    return range(List.of(loads.get(0), loads.get(loads.size() - 1)));
  }

  private String temperature() {
    TemperatureRange range = result.asDecided().temperature();
    return StudyWords.temperature(range);
  }

  private String lot(Finding finding) {
    LotScope scope =
        result.asDecided().scopes().stream()
            .filter(s -> s.kind() == finding.lots().orElseThrow())
            .findFirst()
            .orElseThrow();
    return scope.kind().key() + " lot " + String.join(", ", scope.lots());
  }
}
