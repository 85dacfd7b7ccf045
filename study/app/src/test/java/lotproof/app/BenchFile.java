package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.ImportChoices;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;

/** One invented bench file of the corpus, with what is expected of it. */
record BenchFile(Path path, Map<String, List<String>> expected) {
  static final Path FOLDER = Path.of("src", "test", "resources", "bench-files");
  private static final String BESIDE = ".expected";

  /** All of them, in the order of their names. */
  static List<BenchFile> all() {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files.filter(f -> f.toString().endsWith(BESIDE)).sorted().map(BenchFile::of).toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static BenchFile of(Path beside) {
    Map<String, List<String>> expected = new LinkedHashMap<>();
    try {
      for (String line : Files.readAllLines(beside)) {
        int colon = line.indexOf(": ");
        if (colon > 0) {
          expected
              .computeIfAbsent(line.substring(0, colon), key -> new ArrayList<>())
              .add(line.substring(colon + 2));
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    String name = beside.getFileName().toString();
    return new BenchFile(
        beside.resolveSibling(name.substring(0, name.length() - BESIDE.length())), expected);
  }

  String name() {
    return path.getFileName().toString();
  }

  byte[] content() {
    try {
      return Files.readAllBytes(path);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  List<String> all(String key) {
    return expected.getOrDefault(key, List.of());
  }

  String one(String key) {
    return all(key).isEmpty() ? "" : all(key).get(0);
  }

  boolean isKept() {
    return one("outcome").equals("kept");
  }

  /** What a person is supposed to have said about it. */
  ImportChoices told() {
    return said(all("told"));
  }

  /** The same with what its refusal asks for. */
  ImportChoices mended() {
    return said(Stream.concat(all("told").stream(), all("mend").stream()).toList());
  }

  private static ImportChoices said(List<String> all) {
    Mapping mapping = Mapping.none();
    for (String told : all) {
      String[] sides = told.split(" = ", 2);
      if (sides[0].startsWith("column ")) {
        mapping = mapping.withColumn(sides[0].substring("column ".length()), sides[1]);
      } else if (sides[0].startsWith("value ")) {
        String word = sides[0].substring("value ".length());
        mapping = mapping.withValue(ReadingColumn.ofWord(word).orElseThrow(), sides[1]);
      } else {
        mapping = mapping.with(Setting.ofKey(sides[0]).orElseThrow(), sides[1]);
      }
    }
    return new ImportChoices(mapping, Set.of(), java.util.Optional.empty());
  }

  /** What mends it, as options of the command line. */
  List<String> options() {
    return all("mend").stream()
        .map(
            told -> {
              String[] sides = told.split(" = ", 2);
              String[] words = sides[0].split(" ", 2);
              return words.length == 1
                  ? "--" + sides[0] + " " + sides[1]
                  : "--" + words[0] + " \"" + words[1] + "=" + sides[1] + "\"";
            })
        .toList();
  }

  /**
   * Processor time of this thread: a loaded machine makes it no longer, as it does a wall clock's.
   */
  static long processorNanos() {
    return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }

  /** A study folder that knows the units of the corpus and has no readings. */
  static StudyFolder emptyStudy(Path root) {
    try {
      Files.createDirectories(root);
      Files.writeString(
          root.resolve("study.yaml"),
          Files.readString(FOLDER.resolve("study.yaml"), StandardCharsets.UTF_8));
      return StudyFolder.at(root);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public String toString() {
    return name();
  }
}
