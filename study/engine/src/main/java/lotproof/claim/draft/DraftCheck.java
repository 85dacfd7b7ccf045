package lotproof.claim.draft;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.claim.draft.DraftReport.Finding;
import lotproof.claim.draft.DraftReport.Problem;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/**
 * Holds a draft sentence against the study: what it fails to state, what it overstates, and words
 * that no such study supports. It reads English by patterns and errs on the side of asking.
 */
public final class DraftCheck {
  private static final double SLACK = 1e-9;

  /** Keys of levels by what a draft says of them; the first that it says counts. */
  private static final Map<String, String> LEVELS = new LinkedHashMap<>();

  static {
    LEVELS.put(
        "(multi|three|four|five|3|4|5)[ -]?points?\\b[^.]*calibrat"
            + "|calibrat[^.]*(multi|three|four|five)[ -]points?\\b",
        "multi-point");
    LEVELS.put("(two|2)[ -]?points?\\b[^.]*calibrat|calibrat[^.]*\\btwo\\b", "two-point");
    LEVELS.put("(one|1|single)[ -]?points?\\b[^.]*calibrat|calibrat[^.]*\\bone\\b", "one-point");
    LEVELS.put(
        "default factor|factory factor|without (any )?calibration|uncalibrated|out of the box",
        "none");
  }

  private final StudyResult result;
  private final DraftText text;
  private final List<Finding> findings = new ArrayList<>();

  private DraftCheck(StudyResult result, String draft) {
    this.result = result;
    this.text = new DraftText(draft);
  }

  /** The check of one draft. */
  public static DraftReport of(StudyResult result, String draft) {
    DraftCheck check = new DraftCheck(result, draft);
    Optional<LevelClaim> claim = check.level();
    OptionalDouble figure = check.figure(claim);
    check.loads(claim);
    check.temperatures();
    claim.ifPresent(check::correction);
    check.matching();
    check.content();
    check.subject();
    check.confidence();
    check.lots();
    check.exclusions();
    check.words();
    OptionalInt level = claim.stream().mapToInt(result.asDecided().claims()::indexOf).findFirst();
    return new DraftReport(draft, level, figure, check.findings);
  }

  private void add(Problem problem, Double... said) {
    findings.add(new Finding(problem, List.of(said), Optional.empty()));
  }

  private void addIf(boolean wrong, Problem problem) {
    if (wrong) {
      add(problem);
    }
  }

  /**
   * The level that the draft names; where it names none, the one whose figure is the widest,
   * because a reader may take it so.
   */
  private Optional<LevelClaim> level() {
    List<LevelClaim> claims = result.asDecided().claims();
    Optional<String> key = levelKey();
    if (key.isEmpty()) {
      add(Problem.LEVEL_NOT_STATED);
      return claims.stream()
          .filter(c -> c.figure().isPresent())
          .max(Comparator.comparingDouble(c -> c.figure().orElseThrow().printableGrams()));
    }
    Optional<LevelClaim> found =
        claims.stream().filter(c -> c.level().key().equals(key.get())).findFirst();
    addIf(found.isEmpty(), Problem.LEVEL_NOT_JUDGED);
    return found;
  }

  private Optional<String> levelKey() {
    return LEVELS.entrySet().stream()
        .filter(level -> text.says(level.getKey()))
        .map(Map.Entry::getValue)
        .findFirst();
  }

  private OptionalDouble figure(Optional<LevelClaim> claim) {
    ClaimForm form = result.study().claim().form();
    OptionalDouble figure = text.figureGrams(result.study().kit().capacityKilograms());
    Optional<double[]> share = text.shareOfReading();
    if (share.isPresent() && form instanceof ClaimForm.OfReading ratio) {
      // the constant that goes with the draft's share in the study's ratio binds as well
      double fromShare = share.get()[0] * ratio.constantGrams() / ratio.readingFraction();
      figure = OptionalDouble.of(Math.min(share.get()[1], fromShare * (1 + 1e-6)));
    } else if (share.isPresent() || form instanceof ClaimForm.OfReading) {
      add(Problem.OTHER_FORM);
      return figure;
    }
    if (figure.isEmpty()) {
      add(Problem.FIGURE_NOT_STATED);
      return figure;
    }
    Optional<LevelOutcome.Figure> supported = claim.flatMap(LevelClaim::figure);
    if (supported.isEmpty()) {
      add(Problem.NO_FIGURE_AT_LEVEL);
      return figure;
    }
    addIf(text.says("\\btypical(ly)?\\b"), Problem.TYPICAL);
    if (figure.getAsDouble() < supported.get().limitGrams() - SLACK) {
      add(Problem.FIGURE_TOO_SMALL, figure.getAsDouble());
    }
    return figure;
  }

  private void loads(Optional<LevelClaim> claim) {
    List<Double> tested = result.study().design().loadsKilograms();
    Optional<double[]> said = text.loadsKilograms();
    if (said.isEmpty()) {
      add(Problem.LOADS_NOT_STATED);
      return;
    }
    double from = said.get()[0];
    double to = said.get()[1];
    if (from < Collections.min(tested) - SLACK || to > Collections.max(tested) + SLACK) {
      add(Problem.LOADS_BEYOND_TESTED, from, to);
    }
    boolean betweenUnknown =
        claim
            .flatMap(LevelClaim::figure)
            .map(figure -> !figure.guards().holdsBetweenLoads())
            .orElse(false);
    addIf(betweenUnknown && from < to, Problem.LOADS_BETWEEN);
  }

  private void temperatures() {
    TemperatureRange range = result.asDecided().temperature();
    if (text.says("(any|all|every) temperature|regardless of temperature")) {
      add(Problem.ANY_TEMPERATURE);
      return;
    }
    Optional<double[]> said = text.celsius();
    if (said.isEmpty()) {
      add(Problem.TEMPERATURE_NOT_STATED);
    } else if (!range.recorded()) {
      add(Problem.TEMPERATURE_NOT_RECORDED);
    } else if (said.get()[0] < range.lowestCelsius() - 0.05
        || said.get()[1] > range.highestCelsius() + 0.05) {
      add(Problem.TEMPERATURE_BEYOND_SEEN, said.get()[0], said.get()[1]);
    }
  }

  /** A figure that depends on a correction of the firmware must say so. */
  private void correction(LevelClaim claim) {
    addIf(
        claim.correction().isPresent() && !text.says("correct|compensat"),
        Problem.CORRECTION_NOT_STATED);
  }

  /** A figure for kits whose boards were matched to their cells must say so. */
  private void matching() {
    if (result.asDecided().claims().stream().anyMatch(LevelClaim::isMatched)) {
      addIf(!text.says("\\bmatch(ed|ing)\\b"), Problem.MATCHING_NOT_STATED);
      addIf(text.says("\\b(any|every) (\\w+ )?(cell|board)\\b"), Problem.ANY_PAIRING);
    }
  }

  private void content() {
    OptionalDouble said = text.content();
    if (said.isEmpty()) {
      boolean every =
          text.says(
              "\\b(every|each|all) (single )?(kit|scale|unit|cell|board|product|device)s?\\b");
      add(every ? Problem.CONTENT_EVERY_UNIT : Problem.CONTENT_NOT_STATED);
    } else if (said.getAsDouble() > result.study().claim().content() + SLACK) {
      add(Problem.CONTENT_TOO_LARGE, said.getAsDouble());
    }
  }

  /** A figure for cells or boards alone must say so, and on what they were. */
  private void subject() {
    ClaimRequest.Subject subject = result.study().claim().subject();
    if (subject == ClaimRequest.Subject.KIT) {
      return;
    }
    if (text.says("\\b(kit|scale)s?\\b")) {
      add(Problem.SUBJECT_IS_KIT);
    } else if (!text.says("\\b" + subject.key() + "s?\\b")) {
      add(Problem.SUBJECT_NOT_STATED);
    } else if (!text.says("\\b(dummy|bridge|reference|jig|average|alone)\\b")) {
      add(Problem.PARTNER_NOT_STATED);
    }
  }

  private void confidence() {
    OptionalDouble said = text.confidence();
    if (said.isEmpty()) {
      add(Problem.CONFIDENCE_NOT_STATED);
    } else if (said.getAsDouble() > result.study().claim().confidence() + SLACK) {
      add(Problem.CONFIDENCE_TOO_LARGE, said.getAsDouble());
    }
  }

  private void lots() {
    for (LotScope scope : result.asDecided().scopes()) {
      boolean all = text.says("\\b(all|any|every|each|future) (\\w+ )?lots?\\b");
      if (scope.wording() == LotScope.Wording.ONE_LOT && (all || !text.says("\\blot\\b"))) {
        Problem problem = all ? Problem.ALL_LOTS : Problem.ONE_LOT_NOT_STATED;
        findings.add(new Finding(problem, List.of(), Optional.of(scope.kind())));
      }
    }
  }

  private void exclusions() {
    addIf(
        !result.excluded().isEmpty() && !text.says("exclu|screen|tested (before|and)"),
        Problem.EXCLUSIONS_NOT_STATED);
  }

  private void words() {
    addIf(text.says("guarante"), Problem.GUARANTEED);
    addIf(
        text.says("\\baccura(te|cy|cies)\\b")
            && !text.says("error of (the )?reading|reading error"),
        Problem.ACCURACY);
    addIf(
        text.says("legal for trade|trade[ -]approved|certified|type[ -]approv|verified for trade"),
        Problem.APPROVAL);
    addIf(
        text.says("\\b(medical|dosing|lifting|crane|safety)\\b")
            && !text.says("\\bnot (for|to)\\b"),
        Problem.USE);
  }
}
