package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.study.Reading;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Text files that end where a copy stopped: each reading that is taken is one of the whole file,
 * with its last digit, or the file is refused.
 */
class CutFilesTest {
  /** Bytes from the end of a file at which it is cut, one after the other. */
  private static final int DEEPEST = 70;

  @TempDir Path temp;

  private static List<BenchFile> textFiles() {
    return BenchFile.all().stream()
        .filter(file -> file.isKept() && file.name().matches(".*\\.(csv|txt|tsv|jsonl)"))
        .toList();
  }

  /** What counts for figures; a remark may be cut. */
  private static String numbers(Reading r) {
    return String.join(
        " ",
        r.run(),
        String.valueOf(r.step()),
        r.cell(),
        r.board(),
        String.valueOf(r.loadKilograms()),
        String.valueOf(r.outputCounts()),
        String.valueOf(r.beside().noiseCounts()),
        String.valueOf(r.beside().cellTemperatureCelsius()),
        String.valueOf(r.beside().boardTemperatureCelsius()));
  }

  private static Set<String> numbers(Preview preview) {
    Set<String> all = new HashSet<>();
    preview.understood().readings().forEach(reading -> all.add(numbers(reading)));
    return all;
  }

  @Test
  @Tag("slow")
  void noReadingOfACutFileLostADigit() {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    int kept = 0;
    int refused = 0;
    for (BenchFile file : textFiles()) {
      byte[] whole = file.content();
      Set<String> right = numbers(preview(folder, file, whole));
      for (int cut = 1; cut <= Math.min(DEEPEST, whole.length / 2); cut++) {
        Preview preview = preview(folder, file, Arrays.copyOf(whole, whole.length - cut));
        boolean taken = Imports.isNew(preview.outcome());
        kept += taken ? 1 : 0;
        refused += taken ? 0 : 1;
        if (taken) {
          assertThat(right)
              .as("%s, the last %d bytes are missing", file.name(), cut)
              .containsAll(numbers(preview));
        }
      }
    }
    assertThat(kept).isPositive();
    assertThat(refused).isGreaterThan(kept);
  }

  private static Preview preview(StudyFolder folder, BenchFile file, byte[] bytes) {
    ReceivedFile received = ReceivedFile.of(file.name(), bytes);
    return Importer.inspect(folder, received, CliCommand.readers(), file.told());
  }

  private static final String RUN =
      """
      session,run,step,cell,board,load [kg],output [counts]
      S1,R1,1,CA-001,BA-001,0,120
      S1,R1,2,CA-001,BA-001,20,1718085
      S1,R1,3,CA-001,BA-001,50,4295062
      S1,R1,4,CA-001,BA-001,20,1718090
      S1,R1,5,CA-001,BA-001,0,121\
      """;

  @Test
  void aLastNumberWithoutLineEndIsRefusedAndTakenWhenAccepted() throws IOException {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    Path cut = written("cut.csv", RUN);
    Ran refused = Ran.lotproof("import", folder.root(), cut);
    assertThat(refused.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(refused.err())
        .contains("cut.csv, line 6, column output [counts]")
        .contains("does not end with a line end")
        .contains("\"121\"")
        .contains("--accept LAST_LINE_UNFINISHED");
    assertThat(folder.root().resolve("readings.csv")).doesNotExist();
    Ran accepted = Ran.lotproof("import", folder.root(), cut, "--accept", "LAST_LINE_UNFINISHED");
    assertThat(accepted.exit()).as(accepted.err()).isEqualTo(Exit.DONE);
    assertThat(accepted.err()).contains("accepted: the file does not end with a line end");
  }

  @ParameterizedTest
  @ValueSource(strings = {"\n", "\r\n", "\r"})
  void aLineEndProvesTheLastLine(String end) throws IOException {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    Path whole = written("whole.csv", RUN.replace("\n", end) + end);
    Ran ran = Ran.lotproof("import", folder.root(), whole, "--dry-run");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.err()).doesNotContain("LAST_LINE").doesNotContain("line end");
  }

  /** Ends that prove the last line: decimals, a word that stood before, quotes, a unit, length. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "output [counts];1204.0;1718085.5;4295062.1;1718090.2;1203.9",
        "output [counts];1204,0;1718085,5;4295062,1;1718090,2;1203,9",
        "output;1204 counts;1718085 counts;4295062 counts;1718090 counts;1203 counts",
        "remark;1204;1718085;4295062;1718090;1203",
        "output [counts];\"1204\";\"1718085\";\"4295062\";\"1718090\";\"1203\"",
      })
  void aLastLineThatProvesItselfIsTaken(String column) throws IOException {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    String[] cells = column.split(";", -1);
    int[] loads = {0, 20, 50, 20, 0};
    boolean remark = cells[0].equals("remark");
    StringBuilder text = new StringBuilder("session;run;step;cell;board;load [kg];");
    text.append(remark ? "output [counts];remark" : cells[0]);
    for (int i = 1; i < cells.length; i++) {
      text.append("\nS1;R1;" + i + ";CA-001;BA-001;" + loads[i - 1] + ";" + cells[i]);
      text.append(remark ? ";calm" : "");
    }
    Path whole = written("whole.csv", text.toString());
    Ran ran =
        Ran.lotproof(
            "import", folder.root(), whole, "--dry-run", "--yes", "--output-unit", "counts");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("5 readings");
    // the same, cut within its last value
    Path cut = written("cut.csv", text.substring(0, text.length() - 1));
    assertThat(
            Ran.lotproof("import", folder.root(), cut, "--yes", "--output-unit", "counts").exit())
        .isEqualTo(Exit.UNUSABLE);
  }

  private Path written(String name, String text) throws IOException {
    return Files.write(temp.resolve(name), text.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void aCutTableOfResultsAPilotAndAManifestAreRefused() throws IOException {
    String table = "cell,board,error [g]\nC1,B1,48230.7\nC1,B2,48229.55\nC2,B1,4";
    Ran spread =
        Ran.lotproof("spread", written("t.csv", table), "--value", "error [g]", "--cell", "cell");
    assertThat(spread.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(spread.err())
        .contains("t.csv, line 4, column error [g]")
        .contains("does not end with a line end")
        .contains("\"4\"");
    Ran pilot = Ran.lotproof("plan", temp.resolve("new"), "--pilot", temp.resolve("t.csv"));
    assertThat(pilot.exit()).isEqualTo(Exit.UNUSABLE);
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    String manifest = "session,run,step,cell,board,load [kg],file\nS1,R1,1,CA-001,BA-001,0,a";
    Ran captures = Ran.lotproof("import", folder.root(), written("m.csv", manifest), "--captures");
    assertThat(captures.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(captures.err()).contains("m.csv, line 2, column file").contains("line end");
  }
}
