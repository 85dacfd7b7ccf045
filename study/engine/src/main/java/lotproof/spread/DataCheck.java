package lotproof.spread;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.study.Keyed;

/**
 * One look at the values for something that a model does not show: values far out, unequal scatter,
 * two groups, an order. It points at something and changes nothing.
 *
 * @param pointsAt serials, lots, pairs or rows that it points at; empty when at none
 * @param statistic the figure that the check computes; absent where it could not be made
 * @param criticalValue what the figure must exceed to be notable, where the check has one
 * @param pValue chance of such a figure without a cause, where the check has one
 */
public record DataCheck(
    Kind kind,
    About about,
    List<String> pointsAt,
    OptionalDouble statistic,
    OptionalDouble criticalValue,
    OptionalDouble pValue,
    boolean notable) {
  /** From this chance on a check is worth a line; one in a hundred does so without a cause. */
  public static final double NOTABLE_LEVEL = 0.01;

  /** Kinds of check. */
  public enum Kind implements Keyed {
    GRUBBS,
    GENERALIZED_ESD,
    MODIFIED_Z,
    TWO_GROUPS,
    BARTLETT,
    BROWN_FORSYTHE,
    COCHRAN,
    RUNS,
    DRIFT
  }

  /**
   * What a check looked at, such as 49 cells.
   *
   * @param most how many could be called extreme, or how often the most measured kit was; else 0
   */
  public record About(int count, String noun, int most) {}

  public DataCheck {
    pointsAt = List.copyOf(pointsAt);
  }

  /** Whether the check could be made. */
  public boolean done() {
    return statistic.isPresent();
  }

  static DataCheck notDone(Kind kind, About about) {
    return new DataCheck(
        kind,
        about,
        List.of(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        false);
  }

  /** A check that points at nothing and is judged by its chance. */
  static DataCheck byChance(Kind kind, About about, double statistic, double pValue) {
    return new DataCheck(
        kind,
        about,
        List.of(),
        OptionalDouble.of(statistic),
        OptionalDouble.empty(),
        OptionalDouble.of(pValue),
        pValue < NOTABLE_LEVEL);
  }
}
