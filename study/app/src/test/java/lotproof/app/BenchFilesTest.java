package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import lotproof.app.cli.CliCommand;
import lotproof.folder.Appended;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every bench file of the corpus is understood or refused as the file beside it says. */
class BenchFilesTest {
  @TempDir Path temp;

  static Stream<BenchFile> files() {
    return BenchFile.all().stream();
  }

  @Test
  void theCorpusIsLarge() {
    assertThat(BenchFile.all()).hasSizeGreaterThanOrEqualTo(100);
    assertThat(BenchFile.all().stream().filter(BenchFile::isKept)).hasSizeGreaterThanOrEqualTo(50);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("files")
  void isUnderstoodOrRefusedAsExpected(BenchFile file) {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    ReceivedFile received = ReceivedFile.of(file.name(), file.content());
    Preview prepared = Importer.inspect(folder, received, CliCommand.readers(), file.told());
    Result<Appended> outcome = prepared.keep();
    assertThat(prepared.outcome()).isEqualTo(outcome);
    if (file.isKept()) {
      assertThat(outcome).matches(Imports::isNew);
      kept(file, folder, prepared, outcome.issues());
    } else {
      assertThat(outcome).matches(Result::isRefused);
      List<DataIssue> issues = outcome.issues();
      assertThat(file.all("issue")).isNotEmpty();
      for (String issue : file.all("issue")) {
        assertThat(issues.stream().filter(DataIssue::isError).map(i -> place(i, issue)))
            .contains(issue);
      }
      assertThat(readings(folder)).isEmpty();
    }
  }

  private static void kept(
      BenchFile file, StudyFolder folder, Preview prepared, List<DataIssue> warnings) {
    List<Reading> readings = readings(folder);
    assertThat(readings).hasSize(Integer.parseInt(file.one("readings")));
    assertThat(readings.stream().map(BenchFilesTest::line)).containsAll(file.all("reading"));
    assertThat(readings.stream().map(r -> step(r) + " " + r.source().row()))
        .containsAll(file.all("row"));
    assertThat(readings.stream().map(r -> step(r) + " " + r.time().map(String::valueOf).orElse("")))
        .containsAll(file.all("readingTime"));
    for (String session : file.all("session")) {
      assertThat(readings).allMatch(r -> r.session().equals(session));
    }
    for (String celsius : file.all("cellTemperature")) {
      assertThat(readings)
          .allMatch(
              r ->
                  r.beside().cellTemperatureCelsius().orElseThrow() == Double.parseDouble(celsius));
    }
    List<String> facts =
        prepared.understood().facts().stream().map(f -> f.name() + " = " + f.value()).toList();
    assertThat(facts).containsAll(file.all("understood"));
    file.all("layout").forEach(layout -> assertThat(facts).contains("layout = " + layout));
    List<String> expected = file.all("warning").stream().filter(w -> !w.endsWith(" none")).toList();
    if (expected.isEmpty()) {
      assertThat(warnings).as("warnings nobody expects").isEmpty();
    }
    for (String warning : expected) {
      assertThat(warnings.stream().map(i -> place(i, warning))).contains(warning);
    }
  }

  /** Code, line and column of an issue, as far as the expectation names them. */
  private static String place(DataIssue issue, String expected) {
    String[] parts = expected.split(" ", 3);
    return issue.code()
        + (parts.length > 1 ? " " + issue.line() : "")
        + (parts.length > 2 ? " " + issue.column() : "");
  }

  private static String step(Reading reading) {
    return reading.run() + "/" + reading.step();
  }

  private static String line(Reading r) {
    return String.join(
        " ",
        step(r),
        r.cell(),
        r.board(),
        UnitsOfMeasure.plain(r.loadKilograms()),
        UnitsOfMeasure.plain(r.outputCounts()));
  }

  private static List<Reading> readings(StudyFolder folder) {
    Result<StudyContents> outcome = folder.open();
    assertThat(outcome.value()).isPresent();
    return outcome.get().readings();
  }
}
