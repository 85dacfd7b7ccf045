package lotproof.gather.layout;

import java.math.BigDecimal;
import java.math.MathContext;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.Study;

/**
 * From the unit of a file to the unit of the record.
 *
 * @param from the unit of the file
 * @param to the unit of the record
 * @param factor what one unit of the step between is worth in the record's unit; 1 when the two
 *     measure the same
 */
record Conversion(Unit from, Unit to, BigDecimal factor) {

  static Conversion of(ReadingColumn column, Unit from, Study study) {
    Unit to = column.unit().orElseThrow();
    BigDecimal factor = BigDecimal.ONE;
    if (from.dimension() == Dimension.BRIDGE_SIGNAL && to.dimension() == Dimension.OUTPUT) {
      factor = BigDecimal.valueOf(study.kit().countsPerMillivoltPerVolt());
    } else if (from.dimension() == Dimension.SHARE_OF_CAPACITY) {
      factor = BigDecimal.valueOf(study.kit().capacityKilograms()).movePointLeft(2);
    }
    return new Conversion(from, to, factor);
  }

  double apply(BigDecimal value) {
    if (from.dimension() == to.dimension()) {
      return from.to(to, value);
    }
    Unit between =
        from.dimension() == Dimension.BRIDGE_SIGNAL
            ? Unit.MILLIVOLT_PER_VOLT
            : Unit.PERCENT_OF_CAPACITY;
    BigDecimal scale = BigDecimal.valueOf(from.to(between, BigDecimal.ONE));
    return value.multiply(scale).multiply(factor, MathContext.DECIMAL128).doubleValue();
  }

  /** What is done, for people; empty when nothing. */
  String words() {
    if (from == to) {
      return "";
    }
    String plain = from.symbol() + " to " + to.symbol();
    if (from.dimension() == Dimension.BRIDGE_SIGNAL) {
      return plain + " by the converter scale of study.yaml";
    }
    return from.dimension() == Dimension.SHARE_OF_CAPACITY
        ? plain + " by the capacity of study.yaml"
        : plain;
  }
}
