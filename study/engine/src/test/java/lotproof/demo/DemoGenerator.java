package lotproof.demo;

import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLGenerator;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import lotproof.folder.Appended;
import lotproof.folder.StudyFolder;
import lotproof.gather.Imports;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.StudySeries;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Result;

/** Writes the invented study of demo-data, through the same doors that a user's data take. */
public final class DemoGenerator {
  static final String TRUTH_NAME = "truth.yaml";

  private DemoGenerator() {}

  /**
   * Writes the study of demo-data.
   *
   * @param args the folder to write, which must not exist or be empty
   */
  public static void main(String[] args) throws IOException {
    if (args.length != 1) {
      throw new IllegalArgumentException("name the folder to write, and nothing else");
    }
    write(DemoStudy.create(DemoStudy.SEED, DemoStudy.FUTURE_KITS), Path.of(args[0]));
  }

  /** Writes the study into a folder that holds nothing yet. */
  static void write(DemoStudy demo, Path target) throws IOException {
    Files.createDirectories(target);
    try (Stream<Path> there = Files.list(target)) {
      if (there.findAny().isPresent()) {
        throw new IllegalArgumentException(target + " is not empty");
      }
    }
    StudyFolder folder = StudyFolder.at(target);
    sound(folder.create(demo.study()));
    Path bench = Files.createTempDirectory("lotproof-demo-");
    try {
      for (DemoStudy.SessionFile session : demo.sessionFiles()) {
        Path file = Files.writeString(bench.resolve(session.name()), session.content());
        importFile(folder, file);
      }
      keepSeries(folder, bench, demo.study().seed());
    } finally {
      delete(bench);
    }
    for (Decision decision : demo.decisions()) {
      folder.record().decide(decision).get();
    }
    Files.write(target.resolve(TRUTH_NAME), truth(demo));
  }

  private static void importFile(StudyFolder folder, Path file) {
    Result<Appended> outcome = Imports.importFile(folder, file, Imports.TEXT_ONLY);
    if (outcome.isRefused()) {
      sound(outcome.issues());
    } else if (!Imports.isNew(outcome)) {
      throw new IllegalStateException(file + " was imported twice");
    }
  }

  private static void keepSeries(StudyFolder folder, Path bench, long seed) throws IOException {
    Path file = Files.writeString(bench.resolve(DemoSeries.NAME), DemoSeries.text(seed));
    StudySeries.inspect(
            folder,
            file,
            DemoSeries.CELL,
            DemoSeries.BOARD,
            DemoSeries.LOAD_KILOGRAMS,
            CaptureFormat.AS_FOUND)
        .keep()
        .get();
  }

  private static byte[] truth(DemoStudy demo) throws IOException {
    YAMLMapper mapper =
        new YAMLMapper(
            YAMLFactory.builder()
                .disable(YAMLGenerator.Feature.WRITE_DOC_START_MARKER)
                .enable(YAMLGenerator.Feature.MINIMIZE_QUOTES)
                .disable(YAMLGenerator.Feature.SPLIT_LINES)
                .build());
    String heading =
        """
        # The true values behind this invented study. No real product, lot or company.
        # Written by lotproof.demo.DemoGenerator; see DEVELOPERS.md.
        """;
    return (heading + mapper.writeValueAsString(demo.truth())).getBytes(StandardCharsets.UTF_8);
  }

  private static void sound(List<DataIssue> issues) {
    if (!issues.isEmpty()) {
      throw new IllegalStateException(
          "the demo study is not sound: " + issues.stream().map(DataIssue::sentence).toList());
    }
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      files.forEach(
          file -> {
            try {
              Files.delete(file);
            } catch (IOException e) {
              throw new UncheckedIOException(e);
            }
          });
    }
    Files.delete(folder);
  }
}
