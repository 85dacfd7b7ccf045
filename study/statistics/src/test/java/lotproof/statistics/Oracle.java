package lotproof.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Expected values from a file that names, for each value, its publication or computation and the
 * tolerance it deserves. A row that no test looked at is reported by {@link #assertAllUsed()}.
 */
public final class Oracle {
  private record Row(double expected, String kind, double tolerance) {}

  private final String name;
  private final Map<String, Row> rows = new LinkedHashMap<>();
  private final Set<String> unused = new LinkedHashSet<>();

  private Oracle(String name) {
    this.name = name;
  }

  /**
   * Reads {@code oracle/NAME.csv}: id, quantity, expected, kind (abs or rel), tolerance, source.
   */
  public static Oracle load(String name) {
    Oracle oracle = new Oracle(name);
    for (NamedCsvRecord row : read("/oracle/" + name + ".csv")) {
      String key = row.getField("id") + " " + row.getField("quantity");
      String kind = row.getField("kind");
      assertThat(kind).as("kind of %s", key).isIn("abs", "rel");
      assertThat(row.getField("source")).as("source of %s", key).isNotBlank();
      Row previous =
          oracle.rows.put(
              key,
              new Row(
                  Double.parseDouble(row.getField("expected")),
                  kind,
                  Double.parseDouble(row.getField("tolerance"))));
      assertThat(previous).as("%s stands twice in %s", key, name).isNull();
      oracle.unused.add(key);
    }
    return oracle;
  }

  /** Asserts that a value agrees with its row. */
  public void check(String id, String quantity, double actual) {
    String key = id + " " + quantity;
    Row row = rows.get(key);
    assertThat(row).as("%s has no row %s", name, key).isNotNull();
    unused.remove(key);
    double allowed =
        row.kind().equals("rel") ? row.tolerance() * Math.abs(row.expected()) : row.tolerance();
    assertThat(actual).as(key).isCloseTo(row.expected(), within(allowed));
  }

  /** The expected value itself, for tests that need it as an input. */
  public double expected(String id, String quantity) {
    String key = id + " " + quantity;
    assertThat(rows).containsKey(key);
    unused.remove(key);
    return rows.get(key).expected();
  }

  /** Fails when a row was never checked. */
  public void assertAllUsed() {
    assertThat(unused).as("rows of %s that no test checked", name).isEmpty();
  }

  /** One column of a data file under {@code check-values/}. */
  public static double[] column(String file, String column) {
    return table(file).stream().mapToDouble(r -> Double.parseDouble(r.getField(column))).toArray();
  }

  /** All rows of a data file under {@code check-values/}. */
  public static List<NamedCsvRecord> table(String file) {
    return read("/check-values/" + file);
  }

  private static List<NamedCsvRecord> read(String resource) {
    try (InputStream in = Oracle.class.getResourceAsStream(resource)) {
      assertThat(in).as("resource %s", resource).isNotNull();
      try (Reader reader = new InputStreamReader(in, StandardCharsets.UTF_8);
          CsvReader<NamedCsvRecord> csv = CsvReader.builder().ofNamedCsvRecord(reader)) {
        return csv.stream().toList();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
