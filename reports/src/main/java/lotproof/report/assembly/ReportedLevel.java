package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
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
   * else the one with the smallest figure.
   */
  static Optional<ReportedLevel> leading(StudyResult result) {
    List<ReportedLevel> levels = of(result);
    return levels.stream()
        .filter(level -> level.claim.wanted().map(LevelClaim.Verdict::supported).orElse(false))
        .findFirst()
        .or(
            () ->
                levels.stream()
                    .filter(level -> level.figure().isPresent())
                    .min(Comparator.comparingDouble(level -> level.safest().printableGrams())));
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
    return claim.label();
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

  /** What stands before a figure's number. */
  String sign() {
    return form().side() == ClaimForm.Side.BOTH ? "±" : "";
  }

  /** What a figure's number is, where it stands alone. */
  String meaning() {
    String level = claim.description();
    if (form() instanceof ClaimForm.OfReading && figure().isPresent()) {
      return text(
          "Error of reading %s, of which the constant part, %s",
          form().words(safest().printableGrams()), level);
    }
    return switch (form().side()) {
          case BOTH -> "Error of reading, ";
          case ABOVE -> "Reads too high by at most, ";
          case BELOW -> "Reads too low by at most, ";
        }
        + level;
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
