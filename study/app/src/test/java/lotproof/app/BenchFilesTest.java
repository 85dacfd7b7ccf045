package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.app.cli.CliCommand;
import lotproof.folder.Appended;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.ImportChoices;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureImport;
import lotproof.gather.layout.ResultTable;
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
    if (file.one("door").equals("spread")) {
      isTableOfResults(file);
      return;
    }
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    Preview prepared = prepared(file, folder, file.told());
    Result<Appended> outcome = prepared.keep();
    assertThat(prepared.outcome()).isEqualTo(outcome);
    if (file.isKept()) {
      assertThat(outcome).matches(Imports::isNew);
      kept(file, folder, prepared, outcome.issues());
      return;
    }
    assertThat(outcome).matches(Result::isRefused);
    refused(file, outcome.issues());
    assertThat(readings(folder)).isEmpty();
    if (!file.options().isEmpty()) {
      Preview mended = prepared(file, folder, file.mended());
      kept(file, folder, mended, mended.keep().issues());
    }
  }

  private static Preview prepared(BenchFile file, StudyFolder folder, ImportChoices choices) {
    return file.one("door").equals("captures")
        ? CaptureImport.ofManifest(
            folder, file.path(), CaptureFormat.of(choices.mapping()), CliCommand.readers(), choices)
        : Importer.inspect(
            folder, ReceivedFile.of(file.name(), file.content()), CliCommand.readers(), choices);
  }

  /** All that is expected is wrong, and the messages name every option that mends it. */
  private static void refused(BenchFile file, List<DataIssue> issues) {
    assertThat(file.all("issue")).isNotEmpty();
    for (String issue : file.all("issue")) {
      assertThat(issues.stream().filter(DataIssue::isError).map(i -> place(i, issue)))
          .contains(issue);
    }
    String messages = issues.stream().map(DataIssue::message).collect(Collectors.joining("\n"));
    file.options().forEach(option -> assertThat(messages).contains(option));
  }

  private static void isTableOfResults(BenchFile file) {
    ReceivedFile received = ReceivedFile.of(file.name(), file.content());
    ResultTable.Wanted wanted =
        new ResultTable.Wanted(file.one("column"), file.all("label"), List.of());
    Result<ResultTable> read =
        ResultTable.read(received, CliCommand.readers(), file.told().mapping(), wanted);
    if (!file.isKept()) {
      assertThat(read).matches(Result::isRefused);
      refused(file, read.issues());
      read = ResultTable.read(received, CliCommand.readers(), file.mended().mapping(), wanted);
    }
    assertThat(read.get().values().stream().map(UnitsOfMeasure::plain).toList())
        .isEqualTo(List.of(file.one("values").split(" ")));
    assertThat(read.issues().stream().map(issue -> issue.code() + " " + issue.line()).toList())
        .isEqualTo(file.all("warning"));
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
