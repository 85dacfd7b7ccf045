package lotproof.folder.text;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import org.jspecify.annotations.Nullable;

/**
 * The columns of the tidy layout, in order. readings.csv adds where each reading came from.
 *
 * <p>Ranges are far beyond what a bench can have: no converter has 40 bits, no bench 1000 t. What
 * is outside is no reading, and would leave sums without digits. Common practice, no source.
 */
public enum ReadingColumn {
  SESSION("session", false),
  TIME("time", false),
  RUN("run", true),
  STEP("step", true),
  CELL("cell", true),
  BOARD("board", true),
  LOAD("load", true, Unit.KILOGRAM, 0, 1e9, "a load is 0 or above, and at most 1e9 kg"),
  OUTPUT("output", true, Unit.COUNTS, -1e15, 1e15, "an output is between -1e15 and 1e15 counts"),
  NOISE("noise", false, Unit.COUNTS, 0, 1e15, "noise is 0 or above, and at most 1e15 counts"),
  CELL_TEMPERATURE(
      "cell temperature", false, Unit.CELSIUS, -60, 120, "a bench is between -60 °C and 120 °C"),
  BOARD_TEMPERATURE(
      "board temperature", false, Unit.CELSIUS, -60, 120, "a bench is between -60 °C and 120 °C"),
  REMARK("remark", false);

  private final String word;
  private final boolean required;
  private final @Nullable Unit unit;
  private final double lowest;
  private final double highest;
  private final String rule;

  ReadingColumn(String word, boolean required) {
    this(word, required, null, 0, 0, "");
  }

  ReadingColumn(
      String word,
      boolean required,
      @Nullable Unit unit,
      double lowest,
      double highest,
      String rule) {
    this.word = word;
    this.required = required;
    this.unit = unit;
    this.lowest = lowest;
    this.highest = highest;
    this.rule = rule;
  }

  /** The column's name without a unit. */
  public String word() {
    return word;
  }

  /** Whether every reading needs a value here. */
  public boolean required() {
    return required;
  }

  /** The unit of the record, for columns of quantities. */
  public Optional<Unit> unit() {
    return Optional.ofNullable(unit);
  }

  /** The header as the record and the tidy layout write it, such as {@code load [kg]}. */
  public String header() {
    return unit == null ? word : word + " [" + unit.symbol() + "]";
  }

  /** Why a value in the record's unit cannot be; empty when it can. */
  public Optional<String> outOfRange(double value) {
    return value >= lowest && value <= highest ? Optional.empty() : Optional.of(rule);
  }

  /** The column with this name, if there is one. */
  public static Optional<ReadingColumn> ofWord(String word) {
    return Arrays.stream(values()).filter(c -> c.word.equals(word)).findFirst();
  }

  /** Headers of the tidy layout in order, with the record's units. */
  public static List<String> headers() {
    return Arrays.stream(values()).map(ReadingColumn::header).toList();
  }
}
