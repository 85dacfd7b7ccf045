package lotproof.gather.tables;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lotproof.folder.text.ReadingColumn;

/**
 * What people said about files of one kind.
 *
 * @param settings about the file as a whole
 * @param columns for a header as the file writes it: the column of the record with its unit, such
 *     as {@code load [kg]}, or {@code ignore}
 * @param values for a column of the record: the value that all readings of the file have
 */
public record Mapping(
    Map<Setting, String> settings, Map<String, String> columns, Map<ReadingColumn, String> values) {
  /** Says that a column is left out. */
  public static final String IGNORE = "ignore";

  public Mapping {
    settings = Collections.unmodifiableMap(new TreeMap<>(settings));
    columns = Collections.unmodifiableMap(new LinkedHashMap<>(columns));
    values = Collections.unmodifiableMap(new TreeMap<>(values));
  }

  /** Nothing was said. */
  public static Mapping none() {
    return new Mapping(Map.of(), Map.of(), Map.of());
  }

  /** What was said about the file as a whole. */
  public Optional<String> setting(Setting setting) {
    return Optional.ofNullable(settings.get(setting));
  }

  /** Whether nothing was said. */
  public boolean isEmpty() {
    return settings.isEmpty() && columns.isEmpty() && values.isEmpty();
  }

  /** This and one setting more. */
  public Mapping with(Setting setting, String value) {
    return new Mapping(and(settings, setting, value), columns, values);
  }

  /** This and the meaning of one column more. */
  public Mapping withColumn(String header, String meaning) {
    return new Mapping(settings, and(columns, header, meaning), values);
  }

  /** This and one value more that all readings have. */
  public Mapping withValue(ReadingColumn column, String value) {
    return new Mapping(settings, columns, and(values, column, value));
  }

  private static <K> Map<K, String> and(Map<K, String> all, K key, String value) {
    Map<K, String> more = new LinkedHashMap<>(all);
    more.put(key, value);
    return more;
  }
}
