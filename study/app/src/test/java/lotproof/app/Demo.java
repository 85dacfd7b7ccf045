package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
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
