package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.DraftFinding.Kind;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;

/**
 * Holds a draft sentence against the study: what it fails to state, what it overstates, and words
 * that no such study supports. It reads English by patterns and errs on the side of asking.
 */
public final class DraftCheck {
  private static final double SLACK = 1e-9;

  private final StudyResult result;
  private final DraftText text;
  private final List<DraftFinding> findings = new ArrayList<>();

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
    check.content();
    check.aboutWhat();
    check.confidence();
    check.lots();
    check.exclusions();
    check.words();
    return new DraftReport(
        draft,
        claim.map(c -> c.description()).orElse(""),
        figure,
        check.findings,
        claim.map(LevelClaim::sentence).orElse(""));
  }

  private void add(Kind kind, String about, String message) {
    findings.add(new DraftFinding(kind, about, message));
  }

  /**
   * The level that the draft names; where it names none, the one whose figure is the widest,
   * because a reader may take it so.
   */
  private Optional<LevelClaim> level() {
    List<LevelClaim> claims = result.asDecided().claims();
    Optional<String> key = levelKey();
    if (key.isEmpty()) {
      add(
          Kind.NOT_STATED,
          "calibration level",
          "It does not say what the buyer has done before reading. This study judged: "
              + String.join("; ", claims.stream().map(c -> c.description()).toList())
              + ".");
      return claims.stream()
          .filter(c -> c.figure().isPresent())
          .max(Comparator.comparingDouble(c -> c.figure().orElseThrow().safestGrams()));
    }
    Optional<LevelClaim> found =
        claims.stream().filter(c -> c.level().key().equals(key.get())).findFirst();
    if (found.isEmpty()) {
      add(
          Kind.OVERSTATED,
          "calibration level",
          "The study does not judge the level " + key.get() + ".");
    }
    return found;
  }

  private Optional<String> levelKey() {
    if (text.says(
        "(multi|three|four|five|3|4|5)["
            + " -]?points?\\b[^.]*calibrat|calibrat[^.]*(multi|three|four|five)[ -]points?\\b")) {
      return Optional.of("multi-point");
    }
    if (text.says("(two|2)[ -]?points?\\b[^.]*calibrat|calibrat[^.]*\\btwo\\b")) {
      return Optional.of("two-point");
    }
    if (text.says("(one|1|single)[ -]?points?\\b[^.]*calibrat|calibrat[^.]*\\bone\\b")) {
      return Optional.of("one-point");
    }
    return text.says(
            "default factor|factory factor|without (any )?calibration|uncalibrated|out of the box")
        ? Optional.of("none")
        : Optional.empty();
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
      add(
          Kind.OVERSTATED,
          "form of the figure",
          "The study was made for a figure of the form "
              + form.words(result.study().claim().roundingGrams())
              + "; a figure of another form needs its own study.");
      return figure;
    }
    if (figure.isEmpty()) {
      add(Kind.NOT_STATED, "figure", "It names no figure in grams, kilograms or % of capacity.");
      return figure;
    }
    if (claim.isPresent() && claim.get().outcome() instanceof LevelOutcome.Figure supported) {
      compare(claim.get(), supported, figure.getAsDouble());
    } else {
      add(Kind.OVERSTATED, "figure", "The study supports no figure at that level.");
    }
    return figure;
  }

  private void compare(LevelClaim claim, LevelOutcome.Figure supported, double grams) {
    if (text.says("\\btypical(ly)?\\b")) {
      add(
          Kind.WORDS,
          "typical",
          "A typical value promises nothing for any "
              + subject().key()
              + "; a buyer will read it as a promise. Half of the tested "
              + subject().plural()
              + " stay within "
              + claim
                  .detail()
                  .map(d -> Numbers.digits(d.limits().typicalGrams(), 3) + " g.")
                  .orElse("the median."));
    }
    if (grams < supported.boundGrams() - SLACK) {
      add(
          Kind.OVERSTATED,
          "figure",
          claim.form().words(grams)
              + " is smaller than the study supports "
              + claim.description()
              + ": the safest figure is "
              + claim.form().words(supported.safestGrams())
              + ".");
    }
  }

  private void loads(Optional<LevelClaim> claim) {
    List<Double> tested = result.study().design().loadsKilograms();
    double lowest = tested.stream().min(Double::compare).orElse(0.0);
    double highest = tested.stream().max(Double::compare).orElse(0.0);
    String range = Numbers.plain(lowest) + " to " + Numbers.plain(highest) + " kg";
    Optional<double[]> said = text.loadsKilograms();
    if (said.isEmpty()) {
      add(
          Kind.NOT_STATED,
          "loads",
          "It does not say for which loads; the study tested " + range + ".");
    } else if (said.get()[0] < lowest - SLACK || said.get()[1] > highest + SLACK) {
      add(
          Kind.OVERSTATED,
          "loads",
          "It speaks of "
              + Numbers.plain(said.get()[0])
              + " to "
              + Numbers.plain(said.get()[1])
              + " kg; the study tested "
              + range
              + ".");
    }
    boolean betweenUnknown =
        claim
            .flatMap(LevelClaim::figure)
            .map(figure -> figure.betweenLoadsGrams().isEmpty())
            .orElse(false);
    if (said.isPresent() && betweenUnknown && said.get()[0] < said.get()[1]) {
      add(
          Kind.OVERSTATED,
          "loads between",
          "The tested loads do not show how the error curve bends, so only the tested loads may be"
              + " named.");
    }
  }

  private void temperatures() {
    TemperatureRange range = result.asDecided().temperature();
    if (text.says("(any|all|every) temperature|regardless of temperature")) {
      add(Kind.OVERSTATED, "temperature", "The study holds " + range.words() + " only.");
      return;
    }
    Optional<double[]> said = text.celsius();
    if (said.isEmpty()) {
      add(
          Kind.NOT_STATED,
          "temperature",
          "It does not say at which temperature; the study holds " + range.words() + ".");
    } else if (!range.recorded()) {
      add(Kind.OVERSTATED, "temperature", "No temperature was recorded, so none can be named.");
    } else if (said.get()[0] < range.lowestCelsius() - 0.05
        || said.get()[1] > range.highestCelsius() + 0.05) {
      add(
          Kind.OVERSTATED,
          "temperature",
          "It speaks of "
              + Numbers.plain(said.get()[0])
              + " to "
              + Numbers.plain(said.get()[1])
              + " °C; the study holds "
              + range.words()
              + ".");
    }
  }

  /** A figure that leans on a correction of the firmware must say so. */
  private void correction(LevelClaim claim) {
    if (claim.correction().isPresent() && !text.says("correct|compensat")) {
      add(
          Kind.NOT_STATED,
          "temperature correction",
          "It does not say that readings are corrected for temperature; without that the figure"
              + " does not hold.");
    }
  }

  private void content() {
    ClaimRequest claim = result.study().claim();
    OptionalDouble said = text.content();
    if (text.says("\\b(every|each|all) (single )?(kit|scale|unit|cell|board|product|device)s?\\b")
        && said.isEmpty()) {
      add(
          Kind.OVERSTATED,
          "content",
          "It speaks of every "
              + subject().key()
              + "; the study supports "
              + Numbers.percent(claim.content())
              + " % of "
              + subject().plural()
              + ".");
    } else if (said.isEmpty()) {
      add(
          Kind.NOT_STATED,
          "content",
          "It does not say for how many "
              + subject().plural()
              + "; the study supports at least "
              + Numbers.percent(claim.content())
              + " % of "
              + subject().plural()
              + ".");
    } else if (said.getAsDouble() > claim.content() + SLACK) {
      add(
          Kind.OVERSTATED,
          "content",
          "It speaks of "
              + Numbers.percent(said.getAsDouble())
              + " % of "
              + subject().plural()
              + "; the figure was found for "
              + Numbers.percent(claim.content())
              + " %.");
    }
  }

  private ClaimSubject subject() {
    return result.study().claim().subject();
  }

  /** A figure for cells or boards alone must say so, and on what they were. */
  private void aboutWhat() {
    if (subject() == ClaimSubject.KIT) {
      return;
    }
    Study study = result.study();
    String partner =
        SubjectRuns.partner(study)
            .orElse(
                subject() == ClaimSubject.CELL
                    ? "an average board of the study"
                    : "an average cell of the study");
    if (text.says("\\b(kit|scale)s?\\b")) {
      add(
          Kind.OVERSTATED,
          "what it is for",
          "It speaks of kits or scales; the figure is for "
              + subject().plural()
              + " alone, each on "
              + partner
              + ".");
    } else if (!text.says("\\b" + subject().key() + "s?\\b")) {
      add(
          Kind.NOT_STATED,
          "what it is for",
          "It does not say that it is for "
              + subject().plural()
              + " alone, each on "
              + partner
              + ".");
    } else if (!text.says("\\b(dummy|bridge|reference|jig|average|alone)\\b")) {
      add(
          Kind.NOT_STATED,
          "partner",
          "It does not say that the "
              + subject().plural()
              + " were on "
              + partner
              + "; with another partner the error is larger.");
    }
  }

  private void confidence() {
    double asked = result.study().claim().confidence();
    OptionalDouble said = text.confidence();
    if (said.isEmpty()) {
      add(
          Kind.NOT_STATED,
          "confidence",
          "It does not say how sure the statement is; the study gives "
              + Numbers.percent(asked)
              + " % confidence.");
    } else if (said.getAsDouble() > asked + SLACK) {
      add(
          Kind.OVERSTATED,
          "confidence",
          "It speaks of "
              + Numbers.percent(said.getAsDouble())
              + " % confidence; the figure was found with "
              + Numbers.percent(asked)
              + " %.");
    }
  }

  private void lots() {
    for (LotScope scope : result.asDecided().scopes()) {
      String lot = String.join(", ", scope.lots());
      if (scope.wording() != LotScope.Wording.ONE_LOT) {
        continue;
      }
      if (text.says("\\b(all|any|every|each|future) (\\w+ )?lots?\\b")) {
        add(
            Kind.OVERSTATED,
            scope.kind().word() + " lots",
            "It speaks of all lots; only " + scope.kind().word() + " lot " + lot + " was studied.");
      } else if (!text.says("\\blot\\b")) {
        add(
            Kind.NOT_STATED,
            scope.kind().word() + " lots",
            "It does not say that it holds for " + scope.kind().word() + " lot " + lot + " only.");
      }
    }
  }

  private void exclusions() {
    if (!result.excluded().isEmpty() && !text.says("exclu|screen|tested (before|and)")) {
      add(
          Kind.NOT_STATED,
          "exclusions",
          "Units or runs were excluded by decision; the footnote has to name them and their"
              + " causes.");
    }
  }

  private void words() {
    if (text.says("guarante")) {
      add(
          Kind.WORDS,
          "guaranteed",
          "A figure from a sample is no guarantee for a "
              + subject().key()
              + "; only a test of every shipped "
              + subject().key()
              + " with a guard band is.");
    }
    if (text.says("\\baccura(te|cy|cies)\\b") && !text.says("error of (the )?reading")) {
      add(
          Kind.WORDS,
          "accuracy",
          "The bare word accuracy says nothing; write \"error of reading\" and after which"
              + " calibration.");
    }
    if (text.says(
        "legal for trade|trade[ -]approved|certified|type[ -]approv|verified for trade")) {
      add(
          Kind.WORDS,
          "approval",
          "No study of this kind makes a scale legal for trade or certifies anything.");
    }
    if (text.says("\\b(medical|dosing|lifting|crane|safety)\\b")
        && !text.says("\\bnot (for|to)\\b")) {
      add(Kind.WORDS, "use", "Medical use, dosing, lifting and safety functions are not covered.");
    }
  }
}
