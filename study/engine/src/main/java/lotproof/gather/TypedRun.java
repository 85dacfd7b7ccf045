package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lotproof.folder.text.UnitsOfMeasure;
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
  private static final int BEFORE_VALUES = 5;

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

  /** A run of which a draft holds these fields; nothing when it is no run of so many loads. */
  static Optional<TypedRun> of(PlannedRun planned, List<String> fields, int loads) {
    if (fields.size() < BEFORE_VALUES || fields.size() > BEFORE_VALUES + loads) {
      return Optional.empty();
    }
    List<String> values = fields.subList(BEFORE_VALUES, fields.size());
    TypedRun run =
        new TypedRun(
            planned,
            fields.get(0),
            fields.get(1),
            values.stream().flatMap(value -> number(value).boxed()).toList(),
            number(fields.get(2)).findFirst(),
            number(fields.get(3)).findFirst(),
            fields.get(4));
    return Optional.of(run).filter(it -> it.outputCounts().size() == values.size());
  }

  private static DoubleStream number(String text) {
    return UnitsOfMeasure.number(text).stream().mapToDouble(BigDecimal::doubleValue);
  }

  /** What was typed, as a draft holds it: serials, temperatures, remark, values. */
  List<String> fields() {
    Stream<String> before = Stream.of(cell, board, plain(cellCelsius), plain(boardCelsius), remark);
    return Stream.concat(before, outputCounts.stream().map(UnitsOfMeasure::plain)).toList();
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
