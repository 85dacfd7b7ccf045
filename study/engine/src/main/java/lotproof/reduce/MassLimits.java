package lotproof.reduce;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.study.MassClass;

/**
 * Maximum permissible errors of weights, OIML R 111-1:2004, Table 1.
 *
 * <p>A load that is no single nominal value is made up of weights, the largest first, and their
 * limits add: errors of weights of one class need not be independent, so they are never added in
 * quadrature.
 */
public final class MassLimits {
  private static final String TABLE = "oiml_r111_mpe_mg.csv";
  private static final double LARGEST_KILOGRAMS = 5000;
  private static final double MILLIGRAMS_PER_GRAM = 1000;
  private static final double GRAMS_PER_KILOGRAM = 1000;

  /** Nominal value in grams and limit in milligrams by class; largest nominal value first. */
  private record Row(double nominalGrams, Map<MassClass, Double> limitMilligrams) {}

  private static final List<Row> ROWS = read();

  private MassLimits() {}

  /**
   * Limit of error of a load made up of weights of one class.
   *
   * @param kilograms the load, 0 or above
   * @return the limit in grams; empty when the class has no limit for a weight that is needed, and
   *     above 5000 kg, the largest weight of the table
   */
  public static OptionalDouble grams(double kilograms, MassClass massClass) {
    if (!(kilograms >= 0 && Double.isFinite(kilograms))) {
      throw new IllegalArgumentException("load must be 0 kg or above, was " + kilograms);
    }
    if (kilograms > LARGEST_KILOGRAMS) {
      return OptionalDouble.empty();
    }
    double rest = kilograms * GRAMS_PER_KILOGRAM;
    double milligrams = 0;
    for (Row row : ROWS) {
      // a part in 1e9 absorbs the binary representation of decimal loads
      while (rest >= row.nominalGrams() * (1 - 1e-9)) {
        Double limit = row.limitMilligrams().get(massClass);
        if (limit == null) {
          break;
        }
        milligrams += limit;
        rest -= row.nominalGrams();
      }
    }
    return rest > kilograms * GRAMS_PER_KILOGRAM * 1e-6
        ? OptionalDouble.empty()
        : OptionalDouble.of(milligrams / MILLIGRAMS_PER_GRAM);
  }

  private static List<Row> read() {
    try (InputStream stream = MassLimits.class.getResourceAsStream(TABLE)) {
      if (stream == null) {
        throw new IllegalStateException("the table " + TABLE + " is missing from the program");
      }
      Reader text = new InputStreamReader(stream, StandardCharsets.UTF_8);
      List<Row> rows = new ArrayList<>();
      try (CsvReader<NamedCsvRecord> csv = CsvReader.builder().ofNamedCsvRecord(text)) {
        csv.forEach(record -> rows.add(row(record)));
      }
      return List.copyOf(rows);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Row row(NamedCsvRecord record) {
    Map<MassClass, Double> limits = new EnumMap<>(MassClass.class);
    for (MassClass massClass : MassClass.values()) {
      String text = record.getField(massClass.name());
      if (!text.isEmpty()) {
        limits.put(massClass, Double.valueOf(text));
      }
    }
    return new Row(Double.parseDouble(record.getField("nominal_g")), limits);
  }
}
