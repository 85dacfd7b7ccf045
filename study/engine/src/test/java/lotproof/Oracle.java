package lotproof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Expected values with their sources, as DEVELOPERS.md says under "Oracle files". */
public final class Oracle {
  private static final Path RESOURCES = Path.of("src", "test", "resources");

  private final String name;
  private final Map<String, NamedCsvRecord> rows = new LinkedHashMap<>();
  private final Set<String> unused = new LinkedHashSet<>();

  private Oracle(String name) {
    this.name = name;
  }

  /** Reads {@code oracle/NAME.csv}. */
  public static Oracle load(String name) {
    Oracle oracle = new Oracle(name);
    for (NamedCsvRecord row : read(RESOURCES.resolve("oracle").resolve(name + ".csv"))) {
      String key = row.getField("id") + " " + row.getField("quantity");
      assertThat(row.getField("kind")).as("kind of %s", key).isIn("abs", "rel");
      assertThat(row.getField("source")).as("source of %s", key).isNotBlank();
      assertThat(oracle.rows.put(key, row)).as("%s stands twice in %s", key, name).isNull();
      oracle.unused.add(key);
    }
    return oracle;
  }

  /** Rows of a data file under {@code check-values/}. */
  public static List<NamedCsvRecord> table(String file) {
    return read(RESOURCES.resolve("check-values").resolve(file));
  }

  /** Asserts that a value agrees with its row. */
  public void check(String id, String quantity, double actual) {
    String key = id + " " + quantity;
    NamedCsvRecord row = rows.get(key);
    assertThat(row).as("%s has no row %s", name, key).isNotNull();
    unused.remove(key);
    double expected = Double.parseDouble(row.getField("expected"));
    double tolerance = Double.parseDouble(row.getField("tolerance"));
    boolean relative = row.getField("kind").equals("rel");
    assertThat(actual)
        .as(key)
        .isCloseTo(expected, within(relative ? tolerance * Math.abs(expected) : tolerance));
  }

  /** Fails when a row was never checked. */
  public void assertAllUsed() {
    assertThat(unused).as("rows of %s that no test checked", name).isEmpty();
  }

  private static List<NamedCsvRecord> read(Path file) {
    try (CsvReader<NamedCsvRecord> csv = CsvReader.builder().ofNamedCsvRecord(file)) {
      return csv.stream().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
