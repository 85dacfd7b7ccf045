package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Captures pass the same checks and questions as tables, by manifest and one by one. */
class CaptureImportTest {
  private static final String HEAD = "session,run,step,cell,board,load [kg],file\n";
  private static final double COUNTS_PER_KILOGRAM = 85899;
  private static final List<Integer> LOADS = List.of(0, 20, 50, 20, 0);

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void newStudy() {
    study = BenchFile.emptyStudy(temp.resolve("study")).root();
  }

  private void capture(String name, double counts) throws IOException {
    Random random = new Random(name.hashCode());
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < 200; i++) {
      text.append(Math.round(counts + 12 * random.nextGaussian())).append('\n');
    }
    Files.writeString(temp.resolve(name), text);
  }

  /** Captures of one run, with outputs as many times as steep as they should be. */
  private void captures(double times) throws IOException {
    for (int i = 0; i < LOADS.size(); i++) {
      capture("c" + (i + 1) + ".log", 1200 + times * COUNTS_PER_KILOGRAM * LOADS.get(i));
    }
  }

  private static String rows(String start, double perKilogram) {
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < LOADS.size(); i++) {
      String load = String.format(Locale.ROOT, "%.1f", LOADS.get(i) * perKilogram);
      rows.append(start).append(i + 1).append(",CA-001,BA-001,").append(load);
      rows.append(",c").append(i + 1).append(".log\n");
    }
    return rows.toString();
  }

  private Path manifest(String text) throws IOException {
    return Files.writeString(temp.resolve("manifest.csv"), text);
  }

  private Ran imported(Object... more) {
    return Ran.lotproof(
        java.util.stream.Stream.concat(
                java.util.stream.Stream.of("import", study), java.util.stream.Stream.of(more))
            .toArray());
  }

  private void refused(Ran ran, String... said) {
    assertThat(ran.exit()).as(ran.out() + ran.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains(said);
    assertThat(study.resolve("readings.csv")).doesNotExist();
  }

  @Test
  void goodCapturesAreKeptWithoutAWord() throws IOException {
    captures(1);
    Ran ran = imported(manifest(HEAD + rows("S1,R1,", 1)), "--captures");
    assertThat(ran.err()).isEmpty();
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("5 readings of 1 runs");
  }

  @Test
  void reversedWiresAreRefusedAndCanBeTurnedOrAccepted() throws IOException {
    captures(-1);
    Path manifest = manifest(HEAD + rows("S1,R1,", 1));
    refused(
        imported(manifest, "--captures"),
        "manifest.csv, line 2, column file",
        "falls as the load rises",
        "--sign reversed",
        "--accept SLOPE_DOUBTFUL");
    Ran turned = imported(manifest, "--captures", "--sign", "reversed", "--dry-run");
    assertThat(turned.exit()).as(turned.err()).isEqualTo(Exit.DONE);
    Ran accepted = imported(manifest, "--captures", "--accept", "SLOPE_DOUBTFUL");
    assertThat(accepted.exit()).as(accepted.err()).isEqualTo(Exit.DONE);
    assertThat(accepted.err()).contains("accepted: ");
  }

  @Test
  void gramsUnderAHeaderOfKilogramsAreRefused() throws IOException {
    captures(1);
    refused(
        imported(manifest(HEAD + rows("S1,R1,", 1000)), "--captures"),
        "manifest.csv, line 2",
        "1000 times as flat");
  }

  @Test
  void aLoadThatWasNotPlannedIsNamedAtItsRow() throws IOException {
    captures(1.05);
    refused(
        imported(manifest(HEAD + rows("S1,R1,", 1.05)), "--captures"),
        "manifest.csv, line 3, column load [kg]",
        "--accept LOAD_NOT_PLANNED");
  }

  @Test
  void anUnknownSerialIsNamedAtItsRow() throws IOException {
    captures(1);
    refused(
        imported(manifest(HEAD + rows("S1,R1,", 1).replace("CA-001", "CA-009")), "--captures"),
        "manifest.csv, line 2, column cell");
  }

  @Test
  void aPointThatCouldPartThousandsIsAskedFor() throws IOException {
    captures(1);
    Random random = new Random(7);
    StringBuilder zero = new StringBuilder();
    for (int i = 0; i < 200; i++) {
      zero.append("53.").append(330 + random.nextInt(20)).append('\n');
    }
    Files.writeString(temp.resolve("c1.log"), zero);
    Path manifest = manifest(HEAD + rows("S1,R1,", 1));
    refused(
        imported(manifest, "--captures"),
        "c1.log, line 1",
        "can be read in two ways",
        "--capture-mark decimal or --capture-mark thousands");
    Ran noise = Ran.lotproof("noise", temp.resolve("c1.log"));
    assertThat(noise.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(noise.err()).contains("--capture-mark");
    Ran told = imported(manifest, "--captures", "--capture-mark", "thousands");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv")))
        .containsPattern("R1,1,CA-001,BA-001,0,533[34][0-9]")
        .contains("capture-mark thousands");
  }

  @Test
  void marksBetweenThousandsAreReadWhenTold() throws IOException {
    Random random = new Random(9);
    for (int i = 0; i < LOADS.size(); i++) {
      StringBuilder text = new StringBuilder();
      for (int j = 0; j < 100; j++) {
        long code = Math.round(1_000_200 + COUNTS_PER_KILOGRAM * LOADS.get(i)) + random.nextInt(5);
        text.append(String.format(Locale.GERMANY, "%,d%n", code));
      }
      Files.writeString(temp.resolve("c" + (i + 1) + ".log"), text);
    }
    Path manifest = manifest(HEAD + rows("S1,R1,", 1));
    assertThat(imported(manifest, "--captures").exit()).isEqualTo(Exit.UNUSABLE);
    Ran told = imported(manifest, "--captures", "--capture-mark", "thousands");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv")))
        .containsPattern("BA-001,0,100020[0-9]");
  }

  @Test
  void averagedCapturesWithThreeDecimalsAreNotAskedFor() throws IOException {
    Random random = new Random(8);
    for (int i = 0; i < LOADS.size(); i++) {
      StringBuilder text = new StringBuilder();
      for (int j = 0; j < 100; j++) {
        double value = 1200 + COUNTS_PER_KILOGRAM * LOADS.get(i) + random.nextGaussian();
        text.append(String.format(Locale.ROOT, "%.3f%n", value));
      }
      Files.writeString(temp.resolve("c" + (i + 1) + ".log"), text);
    }
    Ran ran = imported(manifest(HEAD + rows("S1,R1,", 1)), "--captures");
    assertThat(ran.err()).isEmpty();
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
  }

  @Test
  void theSameQuestionsAndOptionsAsForTables() throws IOException {
    captures(1);
    Path comma =
        manifest(
            (HEAD + rows("S1,R1,", 1)).replace(',', ';').replace(".0;", ",0;")
                + "# checked by Mara\n");
    Ran kept = imported(comma, "--captures", "--dry-run");
    assertThat(kept.exit()).as(kept.err()).isEqualTo(Exit.DONE);
    assertThat(kept.out()).contains("comma");
    Path other = manifest((HEAD + rows("S1,R1,", 1)).replace("load [kg]", "Last"));
    refused(imported(other, "--captures"), "manifest.csv, line 1, column Last");
    Ran told = imported(other, "--captures", "--column", "Last=load [kg]", "--dry-run");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    Path thousand =
        manifest(
            (HEAD + rows("S1,R1,", 1))
                .replace(',', ';')
                .replace("20.0", "20.000")
                .replace("50.0", "50.000")
                .replace(";0.0", ";0"));
    refused(imported(thousand, "--captures"), "can be read in two ways", "--decimal");
  }

  @Test
  void aManifestInAWorkbookGivesTheNumberAndNotWhatItShows() throws IOException {
    Files.writeString(
        study.resolve("study.yaml"),
        Files.readString(study.resolve("study.yaml"))
            .replace("loads: [0 kg, 20 kg, 50 kg, 20 kg, 0 kg]", "loads: [0 kg, 12.5 kg, 50 kg]")
            .replaceAll("(?m)^    - \\{level: .*-point.*\\R?", ""));
    capture("c1.log", 1200);
    capture("c2.log", 1200 + 12.5 * COUNTS_PER_KILOGRAM);
    capture("c3.log", 1200 + 50 * COUNTS_PER_KILOGRAM);
    Path file = temp.resolve("manifest.xlsx");
    try (XSSFWorkbook workbook = new XSSFWorkbook();
        OutputStream out = Files.newOutputStream(file)) {
      Sheet sheet = workbook.createSheet("readings");
      CellStyle whole = workbook.createCellStyle();
      whole.setDataFormat(workbook.createDataFormat().getFormat("0"));
      String[] names = HEAD.strip().split(",", -1);
      Row header = sheet.createRow(0);
      for (int i = 0; i < names.length; i++) {
        header.createCell(i).setCellValue(names[i]);
      }
      double[] loads = {0, 12.5, 50};
      for (int i = 0; i < loads.length; i++) {
        Row row = sheet.createRow(i + 1);
        String[] texts = {"S1", "R1", "", "CA-001", "BA-001", "", "c" + (i + 1) + ".log"};
        for (int j = 0; j < texts.length; j++) {
          row.createCell(j).setCellValue(texts[j]);
        }
        row.createCell(2).setCellValue(i + 1);
        row.createCell(5).setCellValue(loads[i]);
        row.getCell(5).setCellStyle(whole);
      }
      workbook.write(out);
    }
    Ran ran = imported(file, "--captures");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv"))).contains("BA-001,12.5,");
  }

  private Ran single(int step, Object... more) {
    Object[] words = {
      temp.resolve("c" + step + ".log"),
      "--session",
      "S1",
      "--run",
      "R1",
      "--step",
      step,
      "--cell",
      "CA-001",
      "--board",
      "BA-001",
      "--load",
      LOADS.get(step - 1) + " kg"
    };
    return imported(
        java.util.stream.Stream.concat(
                java.util.Arrays.stream(words), java.util.Arrays.stream(more))
            .toArray());
  }

  @Test
  void capturesOneByOneAreCheckedWithTheirRun() throws IOException {
    captures(-1);
    assertThat(single(1).exit()).isEqualTo(Exit.DONE);
    String before = Files.readString(study.resolve("readings.csv"));
    Ran second = single(2);
    assertThat(second.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(second.err())
        .contains("c2.log, column output [counts]", "falls as the load rises", "--sign reversed");
    assertThat(Files.readString(study.resolve("readings.csv"))).isEqualTo(before);
  }

  @Test
  void goodCapturesOneByOneMakeARun() throws IOException {
    captures(1);
    for (int step = 1; step <= LOADS.size(); step++) {
      Ran ran = single(step);
      assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
      assertThat(ran.err().lines().filter(l -> !l.contains("lacks"))).isEmpty();
    }
    captures(1);
    Ran other = single(3, "--dry-run");
    assertThat(other.out()).contains("already imported");
  }

  @Test
  void aSingleCaptureAtALoadThatWasNotPlannedIsRefused() throws IOException {
    captures(1);
    Ran ran =
        imported(
            temp.resolve("c2.log"),
            "--run",
            "R1",
            "--step",
            2,
            "--cell",
            "CA-001",
            "--board",
            "BA-001",
            "--load",
            "44 lb");
    refused(ran, "c2.log, column load [kg]", "is planned with 20 kg", "--accept LOAD_NOT_PLANNED");
  }
}
