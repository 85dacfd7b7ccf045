package lotproof.gather;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.Appended;
import lotproof.folder.Fixtures;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.InventedBench.Defect;
import lotproof.gather.InventedBench.Line;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.gather.tables.Mapping;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.PlannedRun;
import lotproof.study.Result;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Runs that repeat another run's outputs are asked, at every door; coarse repeats are not. */
class CopiedRunsTest {
  private static final long SEED = 20_280_707;
  private static final String HEADER =
      "session,time,run,step,cell,board,load [kg],output [counts]\n";
  private static final String RUN =
      """
      S1,2026-03-04T09:30,R1,1,CA-001,BA-001,0,120.5
      S1,2026-03-04T09:31,R1,2,CA-001,BA-001,20,1718085
      S1,2026-03-04T09:32,R1,3,CA-001,BA-001,50,4295062.5
      S1,2026-03-04T09:33,R1,4,CA-001,BA-001,20,1718090
      S1,2026-03-04T09:34,R1,5,CA-001,BA-001,0,121.5
      """;

  @TempDir Path temp;
  private StudyFolder folder;

  @BeforeEach
  void anEmptyStudy() {
    folder = Fixtures.folder(temp.resolve("study"));
  }

  private Result<Appended> take(String rows, Code... accepted) {
    try {
      Path file = Files.writeString(temp.resolve("bench.csv"), HEADER + rows);
      ImportChoices choices = new ImportChoices(Mapping.none(), Set.of(accepted), Optional.empty());
      return Importer.inspect(folder, Importer.receive(file).get(), Imports.TEXT_ONLY, choices)
          .keep();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<Code> codes(Result<Appended> outcome) {
    return outcome.issues().stream().filter(DataIssue::isError).map(DataIssue::code).toList();
  }

  private static String copy(String name) {
    return RUN.replace("R1", name);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "2026-03-04T09 to 2026-03-04T11", "BA-001 to BA-002", "CA-001 to CA-002"})
  void aCopyUnderANewNameIsAsked(String change) {
    String[] words = change.split(" to ", -1);
    String changed = words.length > 1 ? copy("R2").replace(words[0], words[1]) : copy("R2");
    Result<Appended> outcome = take(RUN + changed);
    assertThat(codes(outcome)).containsExactly(Code.RUN_COPIED);
    assertThat(outcome.issues().get(0).message())
        .contains("run R2 repeats run R1 (bench.csv, row 2): all 5 outputs digit by digit")
        .contains("--accept RUN_COPIED");
    assertThat(take(RUN)).matches(Imports::isNew);
    assertThat(codes(take(changed))).containsExactly(Code.RUN_COPIED);
    Result<Appended> accepted = take(changed, Code.RUN_COPIED);
    assertThat(accepted).matches(Imports::isNew);
    assertThat(accepted.issues()).anyMatch(i -> i.code() == Code.RUN_COPIED && !i.isError());
  }

  @Test
  void aCopyWithoutTimesIsAsked() {
    assertThat(take(RUN)).matches(Imports::isNew);
    String untimed =
        copy("R2")
            .lines()
            .map(l -> l.replaceFirst("2026[^,]*", ""))
            .collect(Collectors.joining("\n"));
    assertThat(codes(take(untimed + "\n"))).containsExactly(Code.RUN_COPIED);
  }

  @Test
  void elevenCopiesAreElevenQuestions() {
    StringBuilder rows = new StringBuilder(RUN);
    for (int i = 2; i <= 12; i++) {
      rows.append(copy("R" + i));
    }
    assertThat(codes(take(rows.toString()))).hasSize(11).containsOnly(Code.RUN_COPIED);
  }

  @Test
  void aRepeatThatWasMeasuredIsTaken() {
    String repeat = copy("R2").replace("1718085", "1718086").replace("120.5", "122.5");
    assertThat(codes(take(RUN + repeat.replace("T09", "T10")))).isEmpty();
  }

  @Test
  void aTypedCopyIsDoubted() {
    assertThat(take(RUN)).matches(Imports::isNew);
    StudyContents contents = Fixtures.opened(folder);
    TypedEntry entry = TypedEntry.of(folder, contents, Optional.empty());
    TypedRun run = TypedRun.of(new PlannedRun(1, "S2", "R9", "CA-001", "BA-001", 1));
    for (double output : new double[] {120.5, 1718085, 4295062.5, 1718090}) {
      run = run.with(output);
    }
    assertThat(entry.doubt(run, 121.5).orElse("")).contains("run R9 repeats run R1");
    assertThat(entry.doubts(run.with(122.5))).isEmpty();
  }

  @Test
  void aLaterLotOfCopiesIsAsked() throws IOException {
    assertThat(take(RUN)).matches(Imports::isNew);
    Path file =
        Files.writeString(
            temp.resolve("later.csv"),
            HEADER + copy("L1").replace("CA-001", "CX-001").replace("BA-001", "BX-001"));
    Result<LaterLot> read =
        LaterLot.read(
            Fixtures.opened(folder), file, Imports.TEXT_ONLY, ImportChoices.none(), "X", false);
    assertThat(read.issues()).filteredOn(DataIssue::isError).hasSize(1);
    assertThat(read.issues().get(0).code()).isEqualTo(Code.RUN_COPIED);
  }

  /** Copies one run of an invented bench to the end of its file. */
  private static boolean isAsked(InventedBench bench, Path temp, String name) {
    List<String> runs = bench.lines.stream().map(line -> line.run).distinct().toList();
    String original = runs.get(bench.random.nextInt(runs.size()));
    StringBuilder text = new StringBuilder(bench.file());
    for (String row : bench.file().lines().toList()) {
      if (row.startsWith(original + ",")) {
        text.append(row.replaceFirst(original, "copy")).append('\n');
      }
    }
    return codes(previewed(bench, text.toString(), temp, name)).contains(Code.RUN_COPIED);
  }

  private static Result<Appended> previewed(
      InventedBench bench, String text, Path temp, String name) {
    try {
      Path root = Files.createDirectories(temp.resolve(name));
      Files.writeString(root.resolve("study.yaml"), bench.study());
      Path file = Files.writeString(temp.resolve(name + ".csv"), text);
      return Imports.preview(StudyFolder.at(root), file, Imports.TEXT_ONLY).outcome();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Outputs in steps of so many standard deviations of the noise. */
  private static void coarsen(InventedBench bench, double steps) {
    double step = Math.pow(10, Math.rint(Math.log10(steps * 3e-6 * bench.factor * bench.capacity)));
    for (Line line : bench.lines) {
      line.output = Math.rint(line.output / step) * step;
    }
  }

  private void rates(int studies, double steps, double atLeast) {
    int accused = 0;
    int found = 0;
    List<String> seeds = new ArrayList<>();
    for (int i = 0; i < studies; i++) {
      InventedBench bench = new InventedBench(SEED + i, Defect.NONE);
      if (steps > 0) {
        coarsen(bench, steps);
      }
      String name = "bench-" + steps + "-" + i;
      boolean clean = !codes(previewed(bench, bench.file(), temp, name)).contains(Code.RUN_COPIED);
      accused += clean ? 0 : 1;
      boolean asked = isAsked(bench, temp, name + "-copy");
      found += asked ? 1 : 0;
      if (!clean || !asked) {
        seeds.add((SEED + i) + (clean ? "" : " accused"));
      }
    }
    String row =
        String.format(
            Locale.ROOT,
            "| outputs in steps of %s | %d | %.3f | %.3f |",
            steps > 0 ? steps + " sd of the noise" : "a tenth of a count",
            studies,
            accused / (double) studies,
            found / (double) studies);
    System.out.println(row + " " + seeds);
    assertThat(accused).as(row).isLessThanOrEqualTo(studies / 20);
    assertThat(found).as(row).isGreaterThanOrEqualTo((int) (atLeast * studies));
  }

  @Test
  void aFewBenches() {
    rates(10, 0, 0.5);
    rates(10, 10, 0);
  }

  @ParameterizedTest
  @Tag("guarantee")
  @CsvSource({"0, 0.7", "1, 0.15", "10, 0", "100, 0"})
  void benches(double steps, double atLeast) {
    rates(200, steps, atLeast);
  }

  @Test
  void theDemoStudyGetsNone() {
    StudyContents demo =
        StudyFolder.at(Path.of("..", "..", "demo-data", "hive-scale")).open().get();
    assertThat(PlausibilityChecks.ofReadings(demo.study(), List.of(), demo.readings()))
        .noneMatch(issue -> issue.code() == Code.RUN_COPIED);
  }
}
