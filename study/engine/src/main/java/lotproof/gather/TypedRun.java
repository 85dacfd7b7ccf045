package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.PlannedRun;
import lotproof.study.Reading;

/**
 * A run that is being typed, value by value in the order of its loads. Immutable: each value and
 * each step back is a new one.
 *
 * @param planned the run of the plan
 * @param cell serial of the cell that is really on the bench
 * @param board serial of the board that is really on the bench
 * @param values typed so far
 * @param beside temperatures and remark, as far as they were noted
 */
public record TypedRun(
    PlannedRun planned, String cell, String board, List<Value> values, Reading.Beside beside) {
  private static final int BEFORE_VALUES = 5;

  public TypedRun {
    values = List.copyOf(values);
  }

  /**
   * A value of one step.
   *
   * @param time when it was typed; absent in drafts of versions that did not note it
   */
  public record Value(double counts, Optional<LocalDateTime> time) {
    private static Optional<Value> of(String text) {
      String[] parts = text.split(" ", 2);
      OptionalDouble counts = UnitsOfMeasure.nearest(parts[0]);
      try {
        Optional<LocalDateTime> time =
            parts.length < 2 ? Optional.empty() : Optional.of(LocalDateTime.parse(parts[1]));
        return counts.stream().mapToObj(number -> new Value(number, time)).findFirst();
      } catch (DateTimeParseException e) {
        return Optional.empty();
      }
    }

    private String text() {
      return plain(counts) + time.map(at -> " " + at).orElse("");
    }
  }

  /** The values alone, in counts. */
  public List<Double> outputCounts() {
    return values.stream().map(Value::counts).toList();
  }

  /** A run with the planned pair and no value yet. */
  public static TypedRun of(PlannedRun planned) {
    return new TypedRun(
        planned, planned.cell(), planned.board(), List.of(), Reading.Beside.NOTHING);
  }

  /** A run of which a draft holds these fields; nothing when it is no run of so many loads. */
  static Optional<TypedRun> of(PlannedRun planned, List<String> fields, int loads) {
    if (fields.size() < BEFORE_VALUES || fields.size() > BEFORE_VALUES + loads) {
      return Optional.empty();
    }
    List<String> texts = fields.subList(BEFORE_VALUES, fields.size());
    List<Value> values = texts.stream().flatMap(text -> Value.of(text).stream()).toList();
    Reading.Beside beside =
        new Reading.Beside(
            OptionalDouble.empty(),
            number(fields.get(2)).findFirst(),
            number(fields.get(3)).findFirst(),
            fields.get(4));
    return values.size() == texts.size()
        ? Optional.of(new TypedRun(planned, fields.get(0), fields.get(1), values, beside))
        : Optional.empty();
  }

  private static DoubleStream number(String text) {
    return UnitsOfMeasure.nearest(text).stream();
  }

  /** What was typed, as a draft holds it: serials, temperatures, remark, values. */
  List<String> fields() {
    Stream<String> before =
        Stream.of(
            cell,
            board,
            plain(beside.cellTemperatureCelsius()),
            plain(beside.boardTemperatureCelsius()),
            beside.remark());
    return Stream.concat(before, values.stream().map(Value::text)).toList();
  }

  /** The same with another pair. */
  public TypedRun withPair(String otherCell, String otherBoard) {
    return new TypedRun(planned, otherCell, otherBoard, values, beside);
  }

  /** The same with temperatures. */
  public TypedRun withTemperatures(OptionalDouble ofCell, OptionalDouble ofBoard) {
    return with(new Reading.Beside(OptionalDouble.empty(), ofCell, ofBoard, beside.remark()));
  }

  /** The same with a remark. */
  public TypedRun withRemark(String text) {
    return with(
        new Reading.Beside(
            OptionalDouble.empty(),
            beside.cellTemperatureCelsius(),
            beside.boardTemperatureCelsius(),
            text));
  }

  private TypedRun with(Reading.Beside other) {
    return new TypedRun(planned, cell, board, values, other);
  }

  /** The same with one value more, of no known time. */
  public TypedRun with(double counts) {
    return with(new Value(counts, Optional.empty()));
  }

  /** The same with one value more. */
  public TypedRun with(Value value) {
    return with(Stream.concat(values.stream(), Stream.of(value)).toList());
  }

  /** The same with other counts at a step, which keeps its time. */
  public TypedRun with(int step, double counts) {
    List<Value> changed = new ArrayList<>(values);
    changed.set(step, new Value(counts, values.get(step).time()));
    return with(changed);
  }

  /** The first values of it. */
  public TypedRun first(int steps) {
    return with(values.subList(0, steps));
  }

  private TypedRun with(List<Value> others) {
    return new TypedRun(planned, cell, board, others, beside);
  }

  /** The same without its last value; empty when there is none. */
  public Optional<TypedRun> back() {
    return values.isEmpty() ? Optional.empty() : Optional.of(first(values.size() - 1));
  }
}
