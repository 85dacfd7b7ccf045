package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** The study in demo-data, and copies of it for tests that change something. */
final class Demo {
  static final Path FOLDER = Path.of("..", "..", "demo-data", "hive-scale");

  private Demo() {}

  /** A copy of the study below a folder. */
  static Path copyInto(Path folder) {
    Path target = folder.resolve("hive-scale");
    try (Stream<Path> files = Files.walk(FOLDER)) {
      for (Path file : files.toList()) {
        Path copy = target.resolve(FOLDER.relativize(file).toString());
        if (Files.isDirectory(file)) {
          Files.createDirectories(copy);
        } else {
          Files.copy(file, copy);
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return target;
  }

  /**
   * Leaves in the plan of a study what its record holds, so that the part that was measured is a
   * study of its own.
   */
  static void planWhatWasMeasured(Path study) {
    try {
      Map<String, Set<String>> runsOf = new HashMap<>();
      for (String line : Files.readAllLines(study.resolve("readings.csv"))) {
        String[] cells = line.split(",", -1);
        runsOf
            .computeIfAbsent(cells[4] + ", board: " + cells[5] + ",", pair -> new HashSet<>())
            .add(cells[2]);
      }
      Path file = study.resolve("study.yaml");
      List<String> kept = new ArrayList<>();
      for (String line : Files.readAllLines(file)) {
        Optional<Set<String>> runs =
            runsOf.entrySet().stream()
                .filter(pair -> line.contains("{cell: " + pair.getKey()))
                .map(Map.Entry::getValue)
                .findFirst();
        if (!line.contains("{cell: ") || !line.contains("runs: ")) {
          kept.add(line);
        } else if (runs.isPresent()) {
          kept.add(line.replaceFirst("runs: .*", "runs: " + runs.get().size() + "}"));
        }
      }
      Files.write(file, kept);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The text of a bench file of the study, as it was received. */
  static String received(String name) {
    try (Stream<String> readings = Files.lines(FOLDER.resolve("readings.csv"))) {
      String[] cells =
          readings
              .map(line -> line.split(",", -1))
              .filter(line -> line[12].equals(name))
              .findFirst()
              .orElseThrow();
      return Files.readString(FOLDER.resolve("captures").resolve(cells[14] + ".csv"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A copy of the definition alone: a study without a reading. */
  static Path emptyInto(Path folder) {
    try {
      Path target = Files.createDirectories(folder.resolve("empty"));
      Files.copy(FOLDER.resolve("study.yaml"), target.resolve("study.yaml"));
      return target;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
