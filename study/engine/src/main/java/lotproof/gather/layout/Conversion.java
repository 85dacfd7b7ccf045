package lotproof.gather.layout;

import java.math.BigDecimal;
import java.math.MathContext;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.Kit;

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
