package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Bench sheets of side tests: planned, filled in, imported, and in the figure. */
class SideSheetsTest {
  @TempDir private Path temp;

  private Ran plan(Path folder, Object... more) {
    List<Object> words =
        new ArrayList<>(
            List.of("plan", folder, "--capacity", "50 kg", "--default-factor", "80000 counts/kg"));
    words.addAll(List.of("--converter-scale", "2000000 counts/(mV/V)", "--temperature", "18..26"));
    words.addAll(List.of("--cells", "A=6", "--cells", "B=6", "--boards", "X=6", "--boards", "Y=6"));
    words.addAll(List.of("--bench-masses", "F2", "--cell-sd", "240", "--board-sd", "90"));
    words.addAll(List.of("--repeat-sd", "10", "--check", "K0/Q0", "--seed", "7"));
    words.addAll(List.of(more));
    return Ran.lotproof(words.toArray());
  }

  private Path planned() {
    Path folder = temp.resolve("scale");
    Ran ran =
        plan(
            folder,
            "--side-test",
            "off-centre=0,20,20,20,20,20: loads up to 100 mm off the centre",
            "--side-test",
            "creep=0,50,50,0: loads that stay on for 30 min",
            "--side-kits",
            "4");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    return folder;
  }

  @Test
  void eachSideTestHasASheetWithStepsAndPreparation() throws IOException {
    Path folder = planned();
    List<String> rows = Files.readAllLines(folder.resolve("bench/side-off-centre.csv"));
    assertThat(rows.get(0))
        .contains("step 2 reading at 20 kg (counts)")
        .contains("step 6 reading at 20 kg (counts)");
    assertThat(rows).hasSize(5);
    assertThat(rows.subList(1, 5)).allMatch(row -> row.startsWith("OC,OC-0"));
    // two of each lot of cells, and no unit twice
    assertThat(rows.stream().filter(row -> row.contains(",A-"))).hasSize(2);
    assertThat(rows.stream().skip(1).map(row -> row.split(",", -1)[3]).distinct()).hasSize(4);
    assertThat(Files.readAllLines(folder.resolve("bench/side-creep-check.csv")))
        .hasSize(4)
        .last()
        .asString()
        .contains("check-creep-3,K0,Q0");
    assertThat(Files.readString(folder.resolve("bench/preparation.txt")))
        .contains("Side test: Loads off the centre")
        .contains("can tip the platform")
        .contains("must not be able to fall");
    byte[] bytes = Files.readAllBytes(folder.resolve("bench/side-creep.xlsx"));
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(bytes))) {
      assertThat(workbook.getSheet("readings").getDataValidations()).hasSize(4);
      assertThat(workbook.getSheet("preparation").getRow(1).getCell(1).getStringCellValue())
          .contains("loads that stay on for 30 min");
    }
  }

  /** As a person at the bench would: numbers into the boxes, nothing else told. */
  private static void fill(Path file, double effect) throws IOException {
    byte[] bytes = Files.readAllBytes(file);
    // no two sheets read the same
    double zero = 1000 + Math.floorMod(file.getFileName().hashCode(), 97) / 10.0;
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(bytes))) {
      Sheet sheet = workbook.getSheet("readings");
      Row head = sheet.getRow(0);
      for (int r = 1; r <= sheet.getLastRowNum(); r++) {
        Row row = sheet.getRow(r);
        row.getCell(4).setCellValue("2026-09-0" + r);
        row.getCell(5).setCellValue("08:30");
        for (int c = 6; c < head.getLastCellNum() - 3; c++) {
          String[] words = head.getCell(c).getStringCellValue().split("[ ]", -1);
          double load = 0;
          for (int w = 0; w < words.length - 1; w++) {
            load = words[w + 1].equals("kg") ? Double.parseDouble(words[w]) : load;
          }
          row.getCell(c).setCellValue(zero + 10 * r + 80_000 * load + (c % 3) * effect * r);
        }
        row.getCell(head.getLastCellNum() - 3).setCellValue(21.5);
        row.getCell(head.getLastCellNum() - 2).setCellValue(22.5);
      }
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      workbook.write(out);
      Files.write(file, out.toByteArray());
    }
  }

  private static List<Path> sessions(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder.resolve("bench"))) {
      return files
          .filter(file -> file.getFileName().toString().matches("s[0-9]+\\.xlsx"))
          .sorted()
          .toList();
    }
  }

  @Test
  void filledInSheetsImportWithoutAMapping() throws IOException {
    Path folder = planned();
    for (String name : List.of("side-off-centre", "side-creep", "side-creep-check")) {
      Path sheet = folder.resolve("bench/" + name + ".xlsx");
      fill(sheet, 60);
      Ran ran = Ran.lotproof("import", folder, sheet, "--yes");
      assertThat(ran.exit()).as(name + ran.err()).isEqualTo(Exit.DONE);
    }
    String record = Files.readString(folder.resolve("readings.csv"));
    assertThat(record.lines().filter(line -> line.contains(",OC-01,"))).hasSize(6);
    assertThat(record.lines().filter(line -> line.contains(",CR-04,"))).hasSize(4);
    assertThat(record.lines().filter(line -> line.contains(",check-creep-3,"))).hasSize(9);
    for (Path sheet : sessions(folder)) {
      fill(sheet, 3);
      Ran ran = Ran.lotproof("import", folder, sheet, "--yes");
      assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    }
    assertThat(Ran.lotproof("claim", folder, "--details").out())
        .contains("Loads off the centre:")
        .containsPattern("also for\\s+loads\\s+up\\s+to\\s+100\\s+mm\\s+off\\s+the\\s+centre");
  }

  @Test
  void sheetsCanBeHadForAStudyThatStandsAlready() throws IOException {
    Path folder = temp.resolve("plain");
    assertThat(plan(folder).exit()).isEqualTo(Exit.DONE);
    assertThat(Ran.lotproof("plan", folder, "--side-sheets").err())
        .contains("names no side test")
        .contains("design.side-tests");
    Path file = folder.resolve("study.yaml");
    String tests =
        """
        design:
          side-tests:
            - {effect: drift, runs: D-, loads: [0 kg, 20 kg, 20 kg], covers: a day}
        """;
    Files.writeString(file, Files.readString(file).replace("design:\n", tests));
    Ran ran = Ran.lotproof("plan", folder, "--side-sheets", "--side-kits", "3");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readAllLines(folder.resolve("bench/side-drift.csv"))).hasSize(4);
    assertThat(Ran.lotproof("plan", folder, "--side-sheets", "--side-kits", "1").err())
        .contains("at least 2 kits");
  }

  @Test
  void wrongSideTestsAreRefusedByName() {
    Path folder = temp.resolve("none");
    assertThat(plan(folder, "--side-test", "tilt=0,20,20: x").err())
        .contains("there is no effect \"tilt\"");
    assertThat(plan(folder, "--side-test", "creep=0,20,50: x").err()).contains("comes again");
    assertThat(plan(folder, "--side-test", "creep=0,80,80: x").err()).contains("outside 0");
    assertThat(plan(folder, "--side-test", "creep").err()).contains("EFFECT=KG");
    assertThat(folder).doesNotExist();
  }
}
