package lotproof.report;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** Where files of a report go, also from several threads at once. */
public interface OutputSink {
  /** Bytes collected before they go to the disk. */
  int BUFFER = 1 << 16;

  /**
   * Takes a whole file.
   *
   * @param name relative name of plain letters, such as {@code tables/readings.csv}
   * @param content writes all of it, once
   */
  void put(String name, Content content);

  /** Takes a whole file. */
  default void put(String name, byte[] content) {
    put(name, out -> out.write(content));
  }

  /** What writes a file. */
  interface Content {
    void writeTo(OutputStream out) throws IOException;
  }

  /** Takes a whole text file in UTF-8. */
  default void put(String name, String content) {
    put(name, content.getBytes(StandardCharsets.UTF_8));
  }

  /** Files in a folder; one that is there is replaced. */
  static OutputSink folder(Path folder) {
    return (name, content) -> {
      Path target = folder.resolve(checkedName(name));
      try {
        Path parent = target.toAbsolutePath().getParent();
        if (parent == null) {
          throw new IOException("no folder for " + target);
        }
        if (!Files.isDirectory(parent)) {
          Files.createDirectories(parent);
        }
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(target), BUFFER)) {
          content.writeTo(out);
        }
      } catch (IOException e) {
        throw new UncheckedIOException("cannot write " + target, e);
      }
    };
  }

  /** The name, if it leaves no folder. */
  static String checkedName(String name) {
    if (name.matches("([a-z0-9][a-z0-9-]*/)*[a-z0-9][a-z0-9-]*(\\.[a-z0-9]+)+")) {
      return name;
    }
    throw new IllegalArgumentException("not a plain relative file name: \"" + name + "\"");
  }
}
