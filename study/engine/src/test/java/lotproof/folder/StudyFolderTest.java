package lotproof.folder;

import static lotproof.folder.Fixtures.batch;
import static lotproof.folder.Fixtures.bench;
import static lotproof.folder.Fixtures.folder;
import static lotproof.folder.Fixtures.opened;
import static lotproof.folder.Fixtures.refusal;
import static lotproof.folder.Fixtures.sentences;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.StudyFiles.FileOperations;
import lotproof.gather.Imports;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class StudyFolderTest {
  private static final String HEADER =
      "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],cell temperature"
          + " [°C],board temperature [°C],remark,source file,source sheet,source hash,source row\n";
  private static final String ADVICE =
      "; nothing is repaired: bring the file back to what it was before it was changed";

  @TempDir Path root;

  private static Result<Appended> append(StudyFolder folder, String run) {
    ReceivedFile file = bench(run);
    return folder.record().append(file, batch(file, run));
  }

  private String record() throws IOException {
    return Files.readString(root.resolve("readings.csv"));
  }

  @Test
  void aFolderWithoutAStudyFileIsRefused() {
    assertThat(refusal(StudyFolder.at(root)))
        .containsExactly(
            "FILE_MISSING study.yaml: there is no study.yaml in "
                + root
                + "; it defines the study");
    assertThat(append(StudyFolder.at(root), "R1")).matches(Result::isRefused);
    assertThat(append(StudyFolder.at(root.resolve("nowhere")), "R1")).matches(Result::isRefused);
  }

  @Test
  void aNewStudyHasNoReadings() {
    StudyContents contents = opened(folder(root));

    assertThat(contents.study()).isEqualTo(Fixtures.study());
    assertThat(contents.readings()).isEmpty();
    assertThat(contents.decisions()).isEmpty();
    assertThat(contents.warnings()).isEmpty();
    assertThat(contents.recordHash())
        .isEqualTo(ReceivedFile.hash(Fixtures.studyText().getBytes(StandardCharsets.UTF_8)));
  }

  @Test
  void createWritesAStudyOnce() {
    StudyFolder folder = StudyFolder.at(root.resolve("deep/hive"));

    assertThat(folder.create(Fixtures.study())).isEmpty();
    assertThat(opened(folder).study()).isEqualTo(Fixtures.study());
    assertThat(sentences(folder.create(Fixtures.study())))
        .containsExactly(
            "WRITE_FAILED study.yaml: the folder holds a study already; nothing was written");
  }

  @Test
  void whatIsAppendedIsReadBack() throws IOException {
    StudyFolder folder = folder(root);

    assertThat(append(folder, "R1")).isEqualTo(Result.of(new Appended(5, 0, false)));
    assertThat(append(folder, "R2")).isEqualTo(Result.of(new Appended(5, 0, false)));

    StudyContents contents = opened(folder);
    List<Reading> expected = new ArrayList<>(batch(bench("R1"), "R1"));
    expected.addAll(batch(bench("R2"), "R2"));
    assertThat(contents.readings())
        .usingRecursiveFieldByFieldElementComparatorIgnoringFields("recordLine")
        .isEqualTo(expected);
    // The remark of step 3 holds a line break, so that later lines stand one further down.
    assertThat(contents.readings())
        .extracting(Reading::recordLine)
        .containsExactly(2, 3, 4, 6, 7, 8, 9, 10, 12, 13);
    assertThat(contents.warnings()).isEmpty();
    String hash = bench("R1").sha256();
    assertThat(record())
        .startsWith(
            HEADER
                + "S1,,R1,1,CA-001,BA-001,0,100,12.5,,21.5,,bench-R1.csv,,"
                + hash
                + ",2\n"
                + "S1,,R1,2,CA-001,BA-001,20,1718085,12.5,,21.5,,bench-R1.csv,,"
                + hash
                + ",3\n"
                + "S1,,R1,3,CA-001,BA-001,50,4295062.5,12.5,,21.5,\"door, \"\"open\"\"\n"
                + "then shut\",bench-R1.csv,,"
                + hash
                + ",4\n");
    assertThat(root.resolve("captures/" + hash + ".csv")).hasContent("R1");
    assertThat(contents.recordHash())
        .isEqualTo(
            ReceivedFile.hash((Fixtures.studyText() + record()).getBytes(StandardCharsets.UTF_8)));
  }

  @Test
  void theSameBytesAreRecognisedUnderAnyName() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    String before = record();
    ReceivedFile again = ReceivedFile.of("other.txt", "R1".getBytes(StandardCharsets.UTF_8));

    assertThat(folder.record().append(again, batch(again, "R1")))
        .returns(true, it -> it.get().wasThere())
        .returns(5, it -> it.get().readings());
    assertThat(record()).isEqualTo(before);
  }

  @Test
  void oneErrorKeepsAllReadingsOut() {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    ReceivedFile file = bench("more");

    List<Reading> twice = new ArrayList<>(batch(file, "R2"));
    twice.addAll(batch(file, "R2"));
    Result<Appended> outcome = folder.record().append(file, twice);

    assertThat(outcome).matches(Result::isRefused);
    assertThat(sentences(outcome.issues()).get(0))
        .isEqualTo(
            "DUPLICATE_READING bench-more.csv, line 2, column step: run R2, step 1 stands already"
                + " in bench-more.csv, line 2; a repeat of the pair needs a run name of its own");
    assertThat(opened(folder).readings()).hasSize(5);
    assertThat(root.resolve("captures/" + file.captureName())).doesNotExist();
  }

  @Test
  void readingsOfAnotherFileAreAMistakeOfTheCaller() {
    StudyFolder folder = folder(root);
    ReceivedFile file = bench("R1");

    assertThatThrownBy(() -> folder.record().append(file, batch(bench("R2"), "R2")))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("readings from files that are not named: [" + bench("R2").sha256() + "]");
    assertThatThrownBy(() -> folder.record().append(file, List.of()))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("neither readings nor an error");
  }

  @ParameterizedTest
  @EnumSource(FailingOperations.Moment.class)
  void afterAFailureAtAnyStepTheRecordIsOldOrNew(FailingOperations.Moment moment)
      throws IOException {
    int steps = stepsOfAnImport();
    assertThat(steps).isGreaterThanOrEqualTo(8);
    for (int step = 1; step <= steps; step++) {
      Path here = Files.createDirectory(root.resolve(moment + "-" + step));
      append(folder(here), "R1");
      byte[] before = Files.readAllBytes(here.resolve("readings.csv"));
      byte[] after = RecordFiles.READINGS.append(before, batch(bench("R2"), "R2"));
      FailingOperations failing = new FailingOperations(step, moment);

      Result<Appended> outcome = append(StudyFolder.at(here, failing, Duration.ofSeconds(5)), "R2");

      assertThat(outcome).as("step %d", step).matches(Result::isRefused);
      assertThat(sentences(outcome.issues()))
          .containsExactly(
              "WRITE_FAILED readings.csv: writing failed (simulated failure at step "
                  + step
                  + "); the folder is whole, and the step can be repeated");
      byte[] found = Files.readAllBytes(here.resolve("readings.csv"));
      boolean done = Arrays.equals(found, after);
      assertThat(found).as("step %d", step).isEqualTo(done ? after : before);
      assertThat(opened(StudyFolder.at(here)).readings()).hasSize(done ? 10 : 5);
      // No original is missing: it is on the disk before any line that refers to it.
      assertThat(opened(StudyFolder.at(here)).warnings()).isEmpty();
      assertThat(append(StudyFolder.at(here), "R2"))
          .as("the repeat after step %d", step)
          .returns(new Appended(5, 0, done), Result::get);
      assertThat(opened(StudyFolder.at(here)).readings()).hasSize(10);
      assertThat(filesUnder(here)).noneMatch(name -> name.endsWith(".unfinished"));
    }
  }

  @Test
  void whatAKilledWriterLeftIsGoneAfterTheNextOne() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    Files.writeString(root.resolve("captures/.0123.csv.unfinished"), "half");
    Files.writeString(root.resolve(".decisions.csv.unfinished"), "half");
    Path ofReport = Files.createDirectory(root.resolve(".reports.unfinished"));

    append(folder, "R2");

    assertThat(filesUnder(root)).noneMatch(name -> name.endsWith(".csv.unfinished"));
    assertThat(ofReport).as("of a report that may be at work").exists();
  }

  /** Counted on an import of its own, so that a new step is tested without a change here. */
  private int stepsOfAnImport() throws IOException {
    Path here = Files.createDirectory(root.resolve("counted"));
    append(folder(here), "R1");
    FailingOperations counting = new FailingOperations(0, FailingOperations.Moment.BEFORE);
    append(StudyFolder.at(here, counting, Duration.ofSeconds(5)), "R2");
    return counting.stepsTaken();
  }

  private static List<String> filesUnder(Path root) throws IOException {
    try (Stream<Path> files = Files.walk(root)) {
      return files.map(Path::toString).toList();
    }
  }

  @Test
  void writersAtTheSameTimeLoseNothing() throws Exception {
    StudyFolder folder = folder(root);
    ExecutorService pool = Executors.newFixedThreadPool(6);
    try {
      List<Callable<Result<Appended>>> work = new ArrayList<>();
      for (int i = 0; i < 12; i++) {
        String run = "R" + i / 2;
        work.add(() -> append(StudyFolder.at(root), run));
      }
      List<Result<Appended>> outcomes = new ArrayList<>();
      for (Future<Result<Appended>> future : pool.invokeAll(work)) {
        outcomes.add(future.get());
      }
      assertThat(outcomes).filteredOn(Imports::isNew).hasSize(6);
      assertThat(outcomes).filteredOn(it -> it.get().wasThere()).hasSize(6);
    } finally {
      pool.shutdownNow();
    }
    List<Reading> readings = opened(folder).readings();
    assertThat(readings).hasSize(30);
    for (int start = 0; start < 30; start += 5) {
      assertThat(readings.subList(start, start + 5))
          .extracting(Reading::run)
          .containsOnly(readings.get(start).run());
    }
  }

  @Test
  void aWriterThatCannotGetInSaysSo() throws Exception {
    folder(root);
    StudyFiles other = new StudyFiles(root, new FileOperations(), Duration.ofSeconds(5));
    StudyFolder impatient = StudyFolder.at(root, new FileOperations(), Duration.ofMillis(50));
    ExecutorService pool = Executors.newSingleThreadExecutor();
    Result<Appended> outcome =
        other.alone(
            () -> CompletableFuture.supplyAsync(() -> append(impatient, "R1"), pool).join());
    pool.shutdownNow();
    assertThat(sentences(outcome.issues()))
        .containsExactly(
            "FOLDER_BUSY .lotproof-lock: another import or decision is being written; try again"
                + " when it is done");
    assertThat(append(StudyFolder.at(root), "R1")).matches(Imports::isNew);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          CA-001,BA-001,20|CA-001,BA-001,2O|line 3, column load [kg]: "2O" is not a number
          BA-001,20,|BA-001,-20,|line 3, column load [kg]: "-20" is impossible: a load is 0 or above, and at most 1e9 kg
          BA-001,20,|BA-001,,|line 3, column load [kg]: the value is missing
          R1,2,CA|R1,0,CA|line 3, column step: "0" is not a whole number from 1
          R1,2,CA|,2,CA|line 3, column run: the value is missing
          S1,,R1,2|S1,noon,R1,2|line 3, column time: "noon" is not a time such as 2026-03-04T09:30
          ,,21.5,,bench-R1.csv|,,210.5,,bench-R1.csv|line 2, column board temperature [°C]: "210.5" is impossible: a bench is between -60 °C and 120 °C
          ,3\\n|,3,\\n|line 3: the line has 17 fields instead of 16
          ,3\\n|,3\\n\\n|line 4: the line is empty
          door, ""open|door, "open|line 4: Unexpected character after closing quote: 'o' (0x6f)
          then shut"|then shut|line 4: a quotation mark is opened and never closed
          session,|sesion,|line 1: the first line must be: HEADER
          """)
  void aDamagedRecordIsRefusedWithItsLineAndLeftAlone(String what, String by, String said)
      throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    String from = what.replace("\\n", "\n");
    assertThat(record()).contains(from);
    String damaged = record().replaceFirst(Pattern.quote(from), by.replace("\\n", "\n"));
    Files.writeString(root.resolve("readings.csv"), damaged);

    assertThat(refusal(folder))
        .contains(
            "RECORD_DAMAGED readings.csv, " + said.replace("HEADER", HEADER.strip()) + ADVICE);
    assertThat(append(folder, "R2")).matches(Result::isRefused);
    assertThat(record()).isEqualTo(damaged);
  }

  @Test
  void aRecordThatWasCutShortIsRefusedAtAnyLength() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    byte[] whole = Files.readAllBytes(root.resolve("readings.csv"));
    int accepted = 0;
    for (int length = 1; length < whole.length; length++) {
      List<DataIssue> issues = new ArrayList<>();
      List<Reading> read = RecordFiles.READINGS.read(Arrays.copyOf(whole, length), issues);
      if (!issues.isEmpty()) {
        assertThat(issues)
            .as("length %d", length)
            .allMatch(issue -> issue.code() == DataIssue.Code.RECORD_DAMAGED && issue.line() > 0);
      } else {
        assertThat(whole[length - 1]).as("length %d", length).isEqualTo((byte) '\n');
        assertThat(read).hasSize(accepted);
        accepted++;
      }
    }
    // What cannot be seen: whole lines that are gone. Originals under captures/ still hold them.
    assertThat(accepted).isEqualTo(5);
  }

  @Test
  void aChangedOriginalIsDamageAndAMissingOneIsAWarning() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    String path = "captures/" + bench("R1").captureName();

    Files.writeString(root.resolve(path), "R1 ");
    assertThat(refusal(folder))
        .containsExactly(
            "RECORD_DAMAGED "
                + path
                + ": the file was changed: its contents do not match the hash"
                + " in its name"
                + ADVICE);

    Files.delete(root.resolve(path));
    assertThat(sentences(opened(folder).warnings()))
        .containsExactly(
            "FILE_MISSING "
                + path
                + ": the original of bench-R1.csv is not there; what came from it"
                + " cannot be traced beyond the record");
  }

  @ParameterizedTest
  @ValueSource(strings = {"study.yaml", "readings.csv", "decisions.csv", "series.csv"})
  void whatMayNeverEndIsNotRead(String name) throws Exception {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    Path file = root.resolve(name);
    Files.deleteIfExists(file);
    Process pipe = new ProcessBuilder("mkfifo", file.toString()).start();
    assumeThat(pipe.waitFor()).as("pipes in folders").isZero();

    assertThat(assertTimeoutPreemptively(Duration.ofSeconds(20), () -> refusal(folder)))
        .containsExactly(
            "FILE_UNREADABLE " + name + ": it is a folder, a pipe or a device, and no file");
  }

  @Test
  void aHugeStudyFileIsNotParsed() throws IOException {
    StudyFolder folder = folder(root);
    Files.writeString(root.resolve("study.yaml"), "title: \"" + "x".repeat(1_000_000) + "\"\n");

    assertThat(refusal(folder))
        .containsExactly(
            "FILE_UNREADABLE study.yaml: it has more than 1 MB; is it the right file?");
  }

  @Test
  void theRecordIsHeldAgainstTheStudyOfToday() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    Files.writeString(
        root.resolve("study.yaml"),
        Fixtures.studyText()
            .replace("[CA-001, CA-002]", "[CA-002]")
            .replace("cell: CA-001", "cell: CB-001"));

    assertThat(refusal(folder))
        .hasSize(5)
        .first()
        .isEqualTo(
            "UNKNOWN_SERIAL readings.csv, line 2, column cell, unit CA-001: \"CA-001\" is no cell"
                + " of the study; did you mean \"CA-002\"?");
  }

  @Test
  void aHandEditedDuplicateNamesTheEarlierLine() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    Files.writeString(
        root.resolve("readings.csv"), record() + record().lines().skip(1).findFirst().get() + "\n");

    assertThat(refusal(folder))
        .containsExactly(
            "DUPLICATE_READING readings.csv, line 8, column step: run R1, step 1 stands already in"
                + " line 2; a repeat of the pair needs a run name of its own");
  }

  @Test
  void windowsLineEndsOfACheckoutAreNoDamage() throws IOException {
    StudyFolder folder = folder(root);
    append(folder, "R1");
    List<Reading> before = opened(folder).readings();
    Files.writeString(root.resolve("readings.csv"), record().replace("\n", "\r\n"));

    assertThat(opened(folder).readings())
        .extracting(Reading::outputCounts)
        .containsExactlyElementsOf(before.stream().map(Reading::outputCounts).toList());
  }

  @Test
  void issuesOfAllFilesAreReportedTogether() throws IOException {
    StudyFolder folder = folder(root);
    Files.writeString(root.resolve("study.yaml"), Fixtures.studyText().replace("50 kg\n", "50\n"));
    Files.writeString(root.resolve("readings.csv"), "x\n");
    Files.writeString(root.resolve("decisions.csv"), "y\n");

    assertThat(folder.open().issues())
        .extracting(DataIssue::file)
        .containsExactly("study.yaml", "readings.csv", "decisions.csv");
  }

  @Test
  void manyReadingsOpenInOneGo() throws IOException {
    StudyFolder folder = folder(root);
    List<Reading> all =
        IntStream.range(0, 400).boxed().flatMap(i -> batch(bench("R"), "R" + i).stream()).toList();
    ReceivedFile file = bench("R");

    assertThat(folder.record().append(file, all))
        .isEqualTo(Result.of(new Appended(2000, 0, false)));
    assertThat(opened(folder).readings()).hasSize(2000);
  }
}
