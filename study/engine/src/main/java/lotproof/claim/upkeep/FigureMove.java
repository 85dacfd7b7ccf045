package lotproof.claim.upkeep;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.study.CalibrationLevel;

/**
 * How decisions moved the figure of one calibration level.
 *
 * @param level what the buyer has done
 * @param beforeGrams the figure without the decisions; absent when there is none
 * @param afterGrams the figure with them; absent when there is none
 * @param beforeBoundGrams the bound behind it, before rounding
 * @param afterBoundGrams the bound behind it, before rounding
 * @param parts what the move of the bound is made of; they add up to it
 * @param removed what the runs that were taken out showed at this level, the largest error first
 * @param words the move in a sentence
 */
public record FigureMove(
    CalibrationLevel level,
    OptionalDouble beforeGrams,
    OptionalDouble afterGrams,
    OptionalDouble beforeBoundGrams,
    OptionalDouble afterBoundGrams,
    List<Part> parts,
    List<Removed> removed,
    String words) {

  /**
   * One cause of the move.
   *
   * @param title what changed
   * @param before its size before, in grams
   * @param after its size after, in grams
   * @param moveGrams what that did to the bound
   */
  public record Part(String title, double before, double after, double moveGrams) {}

  /**
   * A run that no longer counts.
   *
   * @param run its name
   * @param cell its cell
   * @param board its board
   * @param largestGrams largest size of its error over the run
   */
  public record Removed(String run, String cell, String board, double largestGrams) {}

  public FigureMove {
    parts = List.copyOf(parts);
    removed = List.copyOf(removed);
  }
}
