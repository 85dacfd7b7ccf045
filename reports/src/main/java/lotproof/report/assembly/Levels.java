package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.Comparator;
import java.util.Optional;
import lotproof.claim.Analysis;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.study.ClaimForm;

/** Picks and pairs the claims of a result. */
final class Levels {
  private Levels() {}

  /**
   * The claim that leads the report: the first in study order whose wanted figure is supported, or
   * else the one with the smallest figure.
   */
  static Optional<LevelClaim> leading(Analysis analysis) {
    Optional<LevelClaim> wanted =
        analysis.claims().stream()
            .filter(c -> c.wanted().map(LevelClaim.Verdict::supported).orElse(false))
            .findFirst();
    return wanted.isPresent()
        ? wanted
        : analysis.claims().stream()
            .filter(c -> c.figure().isPresent())
            .min(Comparator.comparingDouble(c -> c.figure().orElseThrow().printableGrams()));
  }

  /** Figure of the same level without any exclusion. */
  static Optional<LevelOutcome.Figure> withoutExclusions(StudyResult result, int level) {
    return result.comparison().claims().get(level).figure();
  }

  /** Plain id of a level, unique by its position in the study. */
  static String id(LevelClaim claim, int index) {
    return claim.level().key() + "-" + (index + 1);
  }

  /** What stands before a figure's number. */
  static String sign(LevelClaim claim) {
    return claim.form().side() == ClaimForm.Side.BOTH ? "±" : "";
  }

  /** What a figure's number is, where it stands alone. */
  static String label(LevelClaim claim) {
    String level = claim.description();
    if (claim.form() instanceof ClaimForm.OfReading && claim.figure().isPresent()) {
      return text(
          "Error of reading %s, of which the constant part, %s",
          claim.form().words(claim.figure().get().printableGrams()), level);
    }
    return switch (claim.form().side()) {
      case BOTH -> "Error of reading, " + level;
      case ABOVE -> "Reads too high by at most, " + level;
      case BELOW -> "Reads too low by at most, " + level;
    };
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
