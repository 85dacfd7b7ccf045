package lotproof.spread;

import java.util.List;
import java.util.OptionalDouble;

/**
 * One look at the values for something that a model does not show: values far out, unequal scatter,
 * two heaps, an order. It points at something and changes nothing.
 */
public sealed interface DataCheck {
  /** From this chance on a check is worth a line; one in a hundred does so without a cause. */
  double NOTABLE_LEVEL = 0.01;

  /** Short name, the same in every study. */
  String key();

  /** What it looks for. */
  String title();

  /** What it looked at, such as "49 cells". */
  String about();

  /**
   * The check was made.
   *
   * @param pointsAt serials, lots, pairs or rows that it points at; empty when at none
   * @param statistic the figure that the check computes
   * @param criticalValue what the figure must exceed to be notable, where the check has one
   * @param pValue chance of such a figure without a cause, where the check has one
   * @param notable whether it is worth a look
   * @param sentence what it means at the bench
   */
  record Done(
      String key,
      String title,
      String about,
      List<String> pointsAt,
      double statistic,
      OptionalDouble criticalValue,
      OptionalDouble pValue,
      boolean notable,
      String sentence)
      implements DataCheck {
    public Done {
      pointsAt = List.copyOf(pointsAt);
    }
  }

  /**
   * The check could not be made.
   *
   * @param reason why, in a sentence
   */
  record NotDone(String key, String title, String about, String reason) implements DataCheck {}
}
