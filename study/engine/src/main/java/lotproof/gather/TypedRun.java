package lotproof.gather;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.study.PlannedRun;

/**
 * A run that is being typed, value by value in the order of its loads. Immutable: each value and
 * each step back is a new one.
 *
 * @param planned the run of the plan
 * @param cell serial of the cell that is really on the bench
 * @param board serial of the board that is really on the bench
 * @param outputCounts values typed so far
 * @param cellCelsius temperature at the cell, if noted
 * @param boardCelsius temperature at the board, if noted
 * @param remark what the bench wrote beside it; empty when nothing
 */
public record TypedRun(
    PlannedRun planned,
    String cell,
    String board,
    List<Double> outputCounts,
    OptionalDouble cellCelsius,
    OptionalDouble boardCelsius,
    String remark) {
  public TypedRun {
    outputCounts = List.copyOf(outputCounts);
  }

  /** A run with the planned pair and no value yet. */
  public static TypedRun of(PlannedRun planned) {
    return new TypedRun(
        planned,
        planned.cell(),
        planned.board(),
        List.of(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        "");
  }

  /** The same with another pair. */
  public TypedRun withPair(String otherCell, String otherBoard) {
    return new TypedRun(
        planned, otherCell, otherBoard, outputCounts, cellCelsius, boardCelsius, remark);
  }

  /** The same with one value more. */
  public TypedRun with(double counts) {
    List<Double> more = new ArrayList<>(outputCounts);
    more.add(counts);
    return new TypedRun(planned, cell, board, more, cellCelsius, boardCelsius, remark);
  }

  /** The same with temperatures. */
  public TypedRun withTemperatures(OptionalDouble ofCell, OptionalDouble ofBoard) {
    return new TypedRun(planned, cell, board, outputCounts, ofCell, ofBoard, remark);
  }

  /** The same with a remark. */
  public TypedRun withRemark(String text) {
    return new TypedRun(planned, cell, board, outputCounts, cellCelsius, boardCelsius, text);
  }

  /** The same without its last value; empty when there is none. */
  public Optional<TypedRun> back() {
    return outputCounts.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new TypedRun(
                planned,
                cell,
                board,
                outputCounts.subList(0, outputCounts.size() - 1),
                cellCelsius,
                boardCelsius,
                remark));
  }
}
