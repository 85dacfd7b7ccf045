package lotproof.gather;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.study.PlannedRun;

/**
 * A run that is being typed, value by value in the order of its loads. Immutable: each value and
 * each step back is a new one.
 *
 * @param planned the run of the plan
 * @param cell serial of the cell that is really on the bench
 * @param board serial of the board that is really on the bench
 * @param outputCounts values typed so far
 * @param remark what the bench wrote beside it; empty when nothing
 */
public record TypedRun(
    PlannedRun planned, String cell, String board, List<Double> outputCounts, String remark) {
  public TypedRun {
    outputCounts = List.copyOf(outputCounts);
  }

  /** A run with the planned pair and no value yet. */
  public static TypedRun of(PlannedRun planned) {
    return new TypedRun(planned, planned.cell(), planned.board(), List.of(), "");
  }

  /** The same with another pair. */
  public TypedRun withPair(String otherCell, String otherBoard) {
    return new TypedRun(planned, otherCell, otherBoard, outputCounts, remark);
  }

  /** The same with one value more. */
  public TypedRun with(double counts) {
    List<Double> more = new ArrayList<>(outputCounts);
    more.add(counts);
    return new TypedRun(planned, cell, board, more, remark);
  }

  /** The same with a remark. */
  public TypedRun withRemark(String text) {
    return new TypedRun(planned, cell, board, outputCounts, text);
  }

  /** The same without its last value; empty when there is none. */
  public Optional<TypedRun> back() {
    return outputCounts.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new TypedRun(
                planned, cell, board, outputCounts.subList(0, outputCounts.size() - 1), remark));
  }
}
