package lotproof.study;

import java.time.LocalDateTime;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.Checks;

/**
 * One accepted reading: one load on one pair at one step of a run.
 *
 * @param session the bench session, in which the set-up was not touched
 * @param time local bench time, if recorded
 * @param run identifies one load run of one pair; a repeat of the pair is another run
 * @param step position within the run, counted from 1
 * @param loadKilograms load applied, 0 or above
 * @param outputCounts mean converter output at this step
 * @param recordLine line of readings.csv that holds it, counted from 1; 0 before it is recorded
 */
public record Reading(
    String session,
    Optional<LocalDateTime> time,
    String run,
    int step,
    String cell,
    String board,
    double loadKilograms,
    double outputCounts,
    Beside beside,
    Provenance source,
    int recordLine) {

  /**
   * What was recorded beside the output.
   *
   * @param noiseCounts standard deviation of the samples behind the mean, if recorded
   * @param remark what the bench wrote; empty when nothing
   */
  public record Beside(
      OptionalDouble noiseCounts,
      OptionalDouble cellTemperatureCelsius,
      OptionalDouble boardTemperatureCelsius,
      String remark) {
    /** Nothing was. */
    public static final Beside NOTHING =
        new Beside(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), "");
  }

  /** A step of a run; of several readings of one only one counts. */
  public record Step(String run, int number) {}

  public Reading {
    Require.text(run, "run");
    Require.text(cell, "cell");
    Require.text(board, "board");
    if (step < 1) {
      throw new IllegalArgumentException("step is counted from 1, was " + step);
    }
    Checks.notNegative(loadKilograms, "load (kg)");
    Checks.finite(outputCounts, "output (counts)");
  }

  /** The step that it is a reading of. */
  public Step stepOfRun() {
    return new Step(run, step);
  }

  /** The serial of its cell or of its board. */
  public String unit(UnitKind kind) {
    return kind == UnitKind.CELL ? cell : board;
  }

  /** The same reading under other names of its units. */
  public Reading withUnits(String otherCell, String otherBoard) {
    return new Reading(
        session,
        time,
        run,
        step,
        otherCell,
        otherBoard,
        loadKilograms,
        outputCounts,
        beside,
        source,
        recordLine);
  }
}
