package lotproof.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.definition.StudyFile;
import lotproof.study.DataIssue;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;

/** The small invented study that the tests of folder and gather share. */
public final class Fixtures {
  private Fixtures() {}

  public static String studyText() {
    return resource("study.yaml");
  }

  public static String resource(String name) {
    try (InputStream in = Fixtures.class.getResourceAsStream(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  public static Study study() {
    return defined(studyText());
  }

  public static Study defined(String text) {
    Result<Study> outcome = StudyFile.read("study.yaml", text.getBytes(StandardCharsets.UTF_8));
    assertThat(outcome.value()).isPresent();
    return outcome.get();
  }

  /** A folder that holds the study and nothing else. */
  public static StudyFolder folder(Path root) {
    try {
      Files.createDirectories(root);
      Files.writeString(root.resolve("study.yaml"), studyText());
      return StudyFolder.at(root);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  public static StudyContents opened(StudyFolder folder) {
    Result<StudyContents> outcome = folder.open();
    assertThat(outcome.value()).isPresent();
    return outcome.get();
  }

  static List<String> refusal(StudyFolder folder) {
    Result<StudyContents> outcome = folder.open();
    assertThat(outcome.value()).isEmpty();
    return sentences(outcome.issues());
  }

  /** Code and sentence of each issue. */
  public static List<String> sentences(List<DataIssue> issues) {
    return issues.stream().map(i -> i.code() + " " + i.sentence()).toList();
  }

  /** A whole run of five planned loads, as a received file and its readings. */
  static ReceivedFile bench(String run) {
    return ReceivedFile.of("bench-" + run + ".csv", run.getBytes(StandardCharsets.UTF_8));
  }

  static List<Reading> batch(ReceivedFile file, String run) {
    double[] loads = {0, 20, 50, 20, 0};
    List<Reading> readings = new ArrayList<>();
    for (int step = 1; step <= loads.length; step++) {
      readings.add(
          new Reading(
              "S1",
              Optional.empty(),
              run,
              step,
              "CA-001",
              "BA-001",
              loads[step - 1],
              100 + 85899.25 * loads[step - 1],
              new Reading.Beside(
                  OptionalDouble.of(12.5),
                  OptionalDouble.empty(),
                  OptionalDouble.of(21.5),
                  step == 3 ? "door, \"open\"\nthen shut" : ""),
              new Provenance(file.name(), file.sha256(), step + 1),
              0));
    }
    return readings;
  }
}
