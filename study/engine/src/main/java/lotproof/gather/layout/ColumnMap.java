package lotproof.gather.layout;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import lotproof.study.Kit;

/** Where the values of one reading stand: for each column of the record a cell of the row. */
final class ColumnMap {
  private static final Cell BLANK = new Cell.Blank();

  /**
   * One of them.
   *
   * @param header how the file names it
   * @param index column of the row counted from 0; below 0 when the value is the same for all rows
   * @param constant the value that is the same for all rows
   * @param conversion from the file's unit; none for text, and for a unit that is not known
   */
  record Slot(String header, int index, Cell constant, Optional<Conversion> conversion) {

    static Slot column(String header, int index, Optional<Conversion> conversion) {
      return new Slot(header, index, BLANK, conversion);
    }

    static Slot constant(String header, Cell value, Optional<Conversion> conversion) {
      return new Slot(header, -1, value, conversion);
    }

    Cell in(Row row) {
      return index < 0 ? constant : row.cell(index);
    }
  }

  private final Map<ReadingColumn, Slot> slots = new EnumMap<>(ReadingColumn.class);
  private final Map<HeaderCell.Beside, Slot> beside = new HashMap<>();

  ColumnMap copy() {
    ColumnMap copy = new ColumnMap();
    copy.slots.putAll(slots);
    copy.beside.putAll(beside);
    return copy;
  }

  /** The places by column, to be changed. */
  Map<ReadingColumn, Slot> slots() {
    return slots;
  }

  /** Places of what helps to read them, to be changed. */
  Map<HeaderCell.Beside, Slot> beside() {
    return beside;
  }

  Optional<Slot> slot(ReadingColumn column) {
    return Optional.ofNullable(slots.get(column));
  }

  boolean has(ReadingColumn column) {
    return slots.containsKey(column);
  }

  Cell cell(ReadingColumn column, Row row) {
    Slot slot = slots.get(column);
    return slot == null ? BLANK : slot.in(row);
  }

  /**
   * From the unit of a file to the unit of the record.
   *
   * @param factor what the first unit of the file's dimension is worth in the record's unit; 1 when
   *     the two measure the same
   */
  record Conversion(Unit from, Unit to, BigDecimal factor) {

    static Conversion of(ReadingColumn column, Unit from, Kit kit) {
      Unit to = column.unit().orElseThrow();
      BigDecimal factor = BigDecimal.ONE;
      if (from.dimension() == Dimension.BRIDGE_SIGNAL && to.dimension() == Dimension.OUTPUT) {
        factor = BigDecimal.valueOf(kit.countsPerMillivoltPerVolt());
      } else if (from.dimension() == Dimension.SHARE_OF_CAPACITY) {
        factor = BigDecimal.valueOf(kit.capacityKilograms()).movePointLeft(2);
      }
      return new Conversion(from, to, factor);
    }

    double apply(BigDecimal value) {
      if (from.dimension() == to.dimension()) {
        return from.to(to, value);
      }
      Unit first = UnitsOfMeasure.units(from.dimension()).get(0);
      BigDecimal scale = BigDecimal.valueOf(from.to(first, BigDecimal.ONE));
      return value.multiply(scale).multiply(factor, MathContext.DECIMAL128).doubleValue();
    }

    /** What is done, for people; empty when nothing. */
    String words() {
      if (from == to) {
        return "";
      }
      String by =
          switch (from.dimension()) {
            case BRIDGE_SIGNAL -> " by the converter scale of study.yaml";
            case SHARE_OF_CAPACITY -> " by the capacity of study.yaml";
            default -> "";
          };
      return from.symbol() + " to " + to.symbol() + by;
    }
  }
}
