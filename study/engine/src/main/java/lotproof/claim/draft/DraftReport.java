package lotproof.claim.draft;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.study.UnitKind;

/**
 * A draft claim held against the study.
 *
 * @param level index of the claim that it was compared with; absent where none was recognised and
 *     no level has a figure
 * @param figureGrams the figure that was recognised in it, in grams
 */
public record DraftReport(
    String draft, OptionalInt level, OptionalDouble figureGrams, List<Finding> findings) {
  public DraftReport {
    findings = List.copyOf(findings);
  }

  /**
   * Something that is wrong with a draft.
   *
   * @param said the numbers that the draft names, where it names wrong ones
   * @param lots whose lots it is about, where it is about lots
   */
  public record Finding(Problem problem, List<Double> said, Optional<UnitKind> lots) {
    public Finding {
      said = List.copyOf(said);
    }
  }

  /** Sorts of trouble. */
  public enum Kind {
    /** The draft leaves out a condition that it needs. */
    NOT_STATED,
    /** The draft says more than the study supports. */
    OVERSTATED,
    /** The draft uses words that no study of this kind supports. */
    WORDS
  }

  /** What can be wrong with a draft. */
  public enum Problem {
    LEVEL_NOT_STATED(Kind.NOT_STATED),
    LEVEL_NOT_JUDGED(Kind.OVERSTATED),
    OTHER_FORM(Kind.OVERSTATED),
    FIGURE_NOT_STATED(Kind.NOT_STATED),
    NO_FIGURE_AT_LEVEL(Kind.OVERSTATED),
    FIGURE_TOO_SMALL(Kind.OVERSTATED),
    TYPICAL(Kind.WORDS),
    LOADS_NOT_STATED(Kind.NOT_STATED),
    LOADS_BEYOND_TESTED(Kind.OVERSTATED),
    LOADS_BETWEEN(Kind.OVERSTATED),
    TEMPERATURE_NOT_STATED(Kind.NOT_STATED),
    ANY_TEMPERATURE(Kind.OVERSTATED),
    TEMPERATURE_NOT_RECORDED(Kind.OVERSTATED),
    TEMPERATURE_BEYOND_SEEN(Kind.OVERSTATED),
    CORRECTION_NOT_STATED(Kind.NOT_STATED),
    CONTENT_NOT_STATED(Kind.NOT_STATED),
    CONTENT_EVERY_UNIT(Kind.OVERSTATED),
    CONTENT_TOO_LARGE(Kind.OVERSTATED),
    SUBJECT_NOT_STATED(Kind.NOT_STATED),
    SUBJECT_IS_KIT(Kind.OVERSTATED),
    PARTNER_NOT_STATED(Kind.NOT_STATED),
    MATCHING_NOT_STATED(Kind.NOT_STATED),
    ANY_PAIRING(Kind.OVERSTATED),
    CONFIDENCE_NOT_STATED(Kind.NOT_STATED),
    CONFIDENCE_TOO_LARGE(Kind.OVERSTATED),
    ONE_LOT_NOT_STATED(Kind.NOT_STATED),
    ALL_LOTS(Kind.OVERSTATED),
    EXCLUSIONS_NOT_STATED(Kind.NOT_STATED),
    GUARANTEED(Kind.WORDS),
    ACCURACY(Kind.WORDS),
    APPROVAL(Kind.WORDS),
    USE(Kind.WORDS);

    private final Kind kind;

    Problem(Kind kind) {
      this.kind = kind;
    }

    /** What sort of trouble it is. */
    public Kind kind() {
      return kind;
    }
  }
}
