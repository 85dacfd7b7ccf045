package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.report.words.Numbers;
import lotproof.report.words.StudyWords;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/**
 * A calibration level of a study in its report.
 *
 * @param result all that the record supports
 * @param claim the level's claim
 * @param index its position in the study, counted from 0
 */
record ReportedLevel(StudyResult result, LevelClaim claim, int index) {

  /** All levels in study order. */
  static List<ReportedLevel> of(StudyResult result) {
    List<ReportedLevel> levels = new ArrayList<>();
    for (LevelClaim claim : result.asDecided().claims()) {
      levels.add(new ReportedLevel(result, claim, levels.size()));
    }
    return levels;
  }

  /**
   * The level that leads the report: the first in study order whose wanted figure is supported, or
   * else the one that is nearest to it, or else the one with the smallest figure.
   */
  static Optional<ReportedLevel> leading(StudyResult result) {
    List<ReportedLevel> levels = of(result);
    return levels.stream()
        .filter(ReportedLevel::supported)
        .findFirst()
        .or(
            () ->
                levels.stream()
                    .filter(level -> level.figure().isPresent())
                    .min(
                        Comparator.comparingDouble(
                                (ReportedLevel level) ->
                                    level.usedFraction().orElse(Double.MAX_VALUE))
                            .thenComparingDouble(level -> level.safest().printableGrams())))
        .or(() -> levels.stream().findFirst());
  }

  /** What is told of levels, each once, with the labels of those that it is told of. */
  static <T> Map<T, String> told(
      List<ReportedLevel> levels, Function<ReportedLevel, List<T>> things) {
    Map<T, List<String>> labels = new LinkedHashMap<>();
    for (ReportedLevel level : levels) {
      things
          .apply(level)
          .forEach(it -> labels.computeIfAbsent(it, k -> new ArrayList<>()).add(level.label()));
    }
    Map<T, String> told = new LinkedHashMap<>();
    labels.forEach(
        (it, of) -> told.put(it, of.size() == levels.size() ? "all" : String.join(", ", of)));
    return told;
  }

  Optional<Figure> figure() {
    return claim.figure();
  }

  Figure safest() {
    return claim.figure().orElseThrow();
  }

  Optional<Figure> withoutExclusions() {
    return result.comparison().claims().get(index).figure();
  }

  ClaimForm form() {
    return claim.form();
  }

  ClaimRequest.Subject subject() {
    return result.study().claim().subject();
  }

  String label() {
    return StudyWords.level(claim.label());
  }

  /** The share of the wanted figure that the limit takes; empty without one of them. */
  OptionalDouble usedFraction() {
    return figure().isPresent() && claim.wanted().isPresent()
        ? OptionalDouble.of(safest().limitGrams() / claim.wanted().get().wantedGrams())
        : OptionalDouble.empty();
  }

  /**
   * What is left of the margin of a supported figure with the excluded units put back; negative
   * where there is none left, empty where nothing is supported or nothing was excluded.
   */
  OptionalDouble marginWithExcluded() {
    return result.excluded().isEmpty() || !supported()
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            withoutExclusions()
                .map(f -> claim.wanted().orElseThrow().wantedGrams() - f.limitGrams())
                .orElse(-1.0));
  }

  boolean supported() {
    return claim.wanted().map(LevelClaim.Verdict::supported).orElse(false);
  }

  /** Whether the excluded units would take more than half of the margin, or all of it. */
  boolean restsOnExclusions() {
    OptionalDouble left = marginWithExcluded();
    return left.isPresent()
        && left.getAsDouble() < claim.wanted().orElseThrow().marginGrams().orElseThrow() / 2;
  }

  /** The level's name: {@code One-point}. */
  String name() {
    String key = claim.level().key();
    return claim.level().pointsKilograms().isEmpty()
        ? "No calibration"
        : key.substring(0, 1).toUpperCase(Locale.ROOT) + key.substring(1);
  }

  /** What the buyer does: {@code tared, set at 20 kg (M1)}. */
  String buyer() {
    String corrected = claim.correction().isPresent() ? ", corrected for temperature" : "";
    return claim.level() instanceof CalibrationLevel.Calibrated calibrated
        ? text(
            "tared, set at %s kg (%s)%s",
            calibrated.pointsKilograms().stream()
                .map(Numbers::plain)
                .collect(Collectors.joining(" and ")),
            calibrated.massClass().key(),
            corrected)
        : "factory factor, tared" + corrected;
  }

  /** {@code after a one-point calibration}. */
  String after() {
    return (claim.level().pointsKilograms().isEmpty()
            ? "without calibration"
            : "after a " + claim.level().key() + " calibration")
        + (claim.correction().isPresent() ? " and with a temperature correction" : "");
  }

  /** A plain id that no other level has, after what it is the id of. */
  String id(String of) {
    return of + "-" + claim.level().key() + "-" + (index + 1);
  }

  String explanationId() {
    return id("why");
  }

  /** Id of the table of limits load by load. */
  String pointsId() {
    return id("points");
  }

  String errorsId() {
    return id("run-errors");
  }

  /** What the numbers of a table of figures are, in a sentence; empty where plus-minus says it. */
  static String formNote(ClaimForm form) {
    if (form instanceof ClaimForm.OfReading share) {
      return text(
          " Every figure is the constant part of a share of the reading and a constant, in the"
              + " ratio of %s.",
          form.words(share.constantGrams()));
    }
    return switch (form.side()) {
      case BOTH -> "";
      case ABOVE -> " Every figure limits reading too high alone.";
      case BELOW -> " Every figure limits reading too low alone.";
    };
  }
}
