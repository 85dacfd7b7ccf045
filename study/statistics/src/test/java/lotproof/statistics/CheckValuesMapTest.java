package lotproof.statistics;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The table in docs/check-values.md names tests that exist, and every id of the oracle files. */
class CheckValuesMapTest {
  private static final Path MAP = Path.of("../../docs/check-values.md");
  private static final List<Path> ORACLES =
      List.of(Path.of("src/test/resources/oracle"), Path.of("../engine/src/test/resources/oracle"));
  private static final Path FITS = Path.of("src/test/resources/components/fit-oracle.csv");
  private static final Pattern TEST = Pattern.compile("`([A-Z]\\w+Test)\\.(\\w+|\\*)`");
  private static final Pattern RANGE = Pattern.compile("([A-Z])(\\d+)(p?)-\\1(\\d+)p?");

  private static List<String[]> rows() throws IOException {
    List<String[]> rows = new ArrayList<>();
    for (String line : Files.readAllLines(MAP)) {
      if (line.startsWith("| ") && !line.startsWith("| id ")) {
        rows.add(line.split("\\|", -1));
      }
    }
    return rows;
  }

  /** Source of each test class of the modules below study/, by name. */
  private static Map<String, Path> sources() throws IOException {
    Map<String, Path> sources = new HashMap<>();
    for (String module : List.of("statistics", "engine", "app")) {
      try (Stream<Path> files = Files.walk(Path.of("..", module, "src", "test", "java"))) {
        files
            .filter(file -> file.toString().endsWith("Test.java"))
            .forEach(file -> sources.put(file.getFileName().toString(), file));
      }
    }
    return sources;
  }

  @Test
  void everyNamedTestExists() throws IOException {
    Map<String, Path> sources = sources();
    Set<String> missing = new LinkedHashSet<>();
    int named = 0;
    for (String[] row : rows()) {
      Matcher test = TEST.matcher(row[3]);
      boolean held = false;
      while (test.find()) {
        held = true;
        named++;
        Path file = sources.get(test.group(1) + ".java");
        assertThat(file).as("source of %s", test.group(1)).isNotNull();
        String source = Files.readString(file);
        String method = test.group(2);
        if (!method.equals("*")
            && !Pattern.compile("\\b" + method + "\\(").matcher(source).find()) {
          missing.add(test.group());
        }
      }
      assertThat(held || row[3].strip().startsWith("not held: "))
          .as("a test, or why there is none, for%s", row[1])
          .isTrue();
    }
    assertThat(named).isGreaterThan(60);
    assertThat(missing).isEmpty();
  }

  @Test
  void everyIdOfTheOracleFilesIsInTheTable() throws IOException {
    Set<String> listed = new LinkedHashSet<>();
    for (String[] row : rows()) {
      for (String id : row[1].strip().split(", ", -1)) {
        Matcher range = RANGE.matcher(id);
        if (range.matches()) {
          for (int i = Integer.parseInt(range.group(2));
              i <= Integer.parseInt(range.group(4));
              i++) {
            listed.add(range.group(1) + i + range.group(3));
          }
        } else {
          listed.add(id);
        }
      }
    }
    Set<String> used = new LinkedHashSet<>();
    for (Path folder : ORACLES) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.filter(f -> f.toString().endsWith(".csv")).sorted().toList()) {
          addIds(file, "id", used);
        }
      }
    }
    addIds(FITS, "case", used);
    assertThat(used).hasSizeGreaterThan(60);
    assertThat(listed).containsAll(used);
  }

  private static void addIds(Path file, String column, Set<String> ids) throws IOException {
    try (CsvReader<NamedCsvRecord> reader = CsvReader.builder().ofNamedCsvRecord(file)) {
      for (NamedCsvRecord row : reader) {
        // "R3 weights" is the data set "weights" of R3
        String id = row.getField(column);
        ids.add(id.startsWith("trap ") ? id : id.split(" ", -1)[0]);
      }
    }
  }
}
