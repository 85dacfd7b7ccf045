package lotproof.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** demo-data is what the generator makes, byte by byte. */
class DemoDataTest {
  private static final Path KEPT = Path.of("..", "..", "demo-data", "hive-scale");

  @TempDir private Path temp;

  @Test
  void theStudyIsWhatTheGeneratorMakes() throws IOException {
    // few future kits: they enter truth.yaml alone, which the slow test compares
    DemoGenerator.write(DemoStudy.create(DemoStudy.SEED, 1000), temp);
    Map<String, String> made = contents(temp);
    Map<String, String> kept = contents(KEPT);
    assertThat(made.remove(DemoGenerator.TRUTH_NAME)).isNotBlank();
    assertThat(kept.remove(DemoGenerator.TRUTH_NAME)).isNotBlank();
    assertThat(made).isEqualTo(kept);
  }

  @Test
  @Tag("slow")
  void theTruthIsWhatTheGeneratorMakes() throws IOException {
    DemoGenerator.write(DemoStudy.create(DemoStudy.SEED, DemoStudy.FUTURE_KITS), temp);
    assertThat(contents(temp)).isEqualTo(contents(KEPT));
  }

  private static Map<String, String> contents(Path folder) throws IOException {
    Map<String, String> contents = new TreeMap<>();
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        String name = folder.relativize(file).toString().replace('\\', '/');
        if (!name.equals(".lotproof-lock")) {
          contents.put(name, Files.readString(file));
        }
      }
    }
    return contents;
  }
}
