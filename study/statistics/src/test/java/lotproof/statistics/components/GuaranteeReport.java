package lotproof.statistics.components;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** The rows that a guarantee suite found, in target/, from which docs/guarantees.md is made. */
public record GuaranteeReport(Path file) {

  /** Starts an empty file. */
  public static GuaranteeReport start(String name) throws IOException {
    Path file = Path.of("target", name);
    Files.createDirectories(file.getParent());
    Files.writeString(file, "");
    return new GuaranteeReport(file);
  }

  /** Adds one row. */
  public void row(String line) throws IOException {
    Files.writeString(file, line + "\n", StandardOpenOption.CREATE, StandardOpenOption.APPEND);
  }
}
