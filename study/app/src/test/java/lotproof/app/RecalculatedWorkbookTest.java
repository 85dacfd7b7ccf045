package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A spreadsheet program computes every formula of the workbook anew, from a copy without any result
 * in it, and finds what the program found. Needs LibreOffice ({@code soffice} on the path).
 */
@Tag("spreadsheet")
class RecalculatedWorkbookTest {
  private static final double RELATIVE = 1e-9;
  private static final double NEAR_ZERO = 1e-12;
  private static final int SECONDS = 240;

  @TempDir private static Path temp;

  @BeforeAll
  static void needsASpreadsheet() {
    assumeTrue(
        soffice().isPresent(),
        "LibreOffice (soffice) is not on the path, so no spreadsheet program recalculates the"
            + " workbook");
  }

  private static java.util.Optional<Path> soffice() {
    return Stream.of(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator, -1))
        .filter(folder -> !folder.isEmpty())
        .map(folder -> Path.of(folder, "soffice"))
        .filter(Files::isExecutable)
        .findFirst();
  }

  @Test
  void theDemoStudyIsComputedAlike() throws Exception {
    Path report = reported(Demo.copyInto(temp.resolve("demo")));
    Map<String, Object> formulas = assertComputedAlike(report);
    // the steps from readings to the figure, each on its sheet
    for (String sheet :
        List.of("Summary", "Levels", "Breakdown", "Errors", "Spread", "Lots", "Bench", "Units")) {
      assertThat(formulas.keySet()).as(sheet).anyMatch(key -> key.startsWith(sheet + "!"));
    }
    assertThat(formulas.values())
        .contains("supported", "not supported")
        .anyMatch(RecalculatedWorkbookTest::isAsRecorded);
    verdictsFollowTheWantedFigure(report);
    verdictsFollowTheStep(report);
    verdictsFollowAReading(report);
  }

  private static boolean isAsRecorded(Object value) {
    return value.toString().startsWith("As recorded");
  }

  private static void verdictsFollowTheWantedFigure(Path report) throws Exception {
    Map<String, Object> found =
        changed(
            report, workbook -> row(workbook, "Levels", "one-point").getCell(1).setCellValue(33));
    assertThat(found.get("Levels!C5")).isEqualTo("not supported");
    assertThat((double) found.get("Levels!F5")).as("margin").isNegative();
    assertThat(found.values())
        .noneMatch(RecalculatedWorkbookTest::isAsRecorded)
        .anyMatch(
            value -> value.toString().startsWith("CHANGED: 0 of the readings, 1 of the wanted"))
        .contains("Print ±33 g after a one-point calibration? No. The data support ±34 g.")
        .as("the answer is that of the level which is still supported")
        .contains("Print ±25 g after a two-point calibration? Yes. The data support ±17 g.");
  }

  private static void verdictsFollowTheStep(Path report) throws Exception {
    Map<String, Object> found =
        changed(
            report,
            workbook -> {
              Name step = workbook.getName("study.step_of_figures");
              CellReference at = new CellReference(step.getRefersToFormula().replaceAll(":.*", ""));
              workbook
                  .getSheet(at.getSheetName())
                  .getRow(at.getRow())
                  .getCell(at.getCol())
                  .setCellValue(20);
            });
    assertThat(found.get("Levels!D5")).as("printable in steps of 20 g").isEqualTo(40.0);
    assertThat(found.get("Levels!C5")).isEqualTo("supported");
    assertThat(found.values())
        .contains("Print ±50 g after a one-point calibration? Yes. The data support ±40 g.")
        .anyMatch(value -> value.toString().contains("1 of the study's numbers differ"));
  }

  private static void verdictsFollowAReading(Path report) throws Exception {
    // a slip of 5000 counts, 60 g, at the largest load of a run that counts
    Map<String, Object> found =
        changed(
            report,
            workbook -> {
              for (Row row : workbook.getSheet("Readings")) {
                if (row.getCell(0) != null
                    && row.getCell(0).toString().equals("S01-02")
                    && row.getCell(2).getNumericCellValue() == 5) {
                  Cell output = row.getCell(6);
                  output.setCellValue(output.getNumericCellValue() + 5000);
                }
              }
            });
    assertThat(found.get("Levels!C5")).isEqualTo("not supported");
    assertThat(found.get("Levels!H5").toString()).startsWith("One kit sets the limit.");
    assertThat(found.values())
        .anyMatch(
            value -> value.toString().startsWith("CHANGED: 1 of the readings, 0 of the wanted"));
  }

  private static Row row(XSSFWorkbook workbook, String sheet, String first) {
    for (Row row : workbook.getSheet(sheet)) {
      if (row.getCell(0) != null && row.getCell(0).toString().startsWith(first)) {
        return row;
      }
    }
    throw new AssertionError("no row " + first);
  }

  /** What a spreadsheet finds in the cells of formulas once something was changed. */
  private static Map<String, Object> changed(Path report, Consumer<XSSFWorkbook> change)
      throws Exception {
    Path blank = Files.createTempDirectory(temp, "changed").resolve("report.xlsx");
    Map<String, Object> formulas = withoutResults(report, blank, change);
    return results(recalculated(blank), formulas);
  }

  @Test
  @Tag("slow")
  void threeUnitsOfOneLotAreComputedAlike() throws Exception {
    Map<String, Object> formulas =
        assertComputedAlike(
            reported(UglyStudy.into(Files.createDirectories(temp.resolve("ugly")))));
    assertThat(formulas.keySet()).anyMatch(key -> key.startsWith("Units!"));
  }

  private static Path reported(Path study) {
    Path to = study.resolveSibling("report-of-" + study.getFileName());
    Ran reported = Ran.lotproof("report", study, "--to", to);
    assertThat(reported.exit()).as(reported.err()).isEqualTo(Exit.DONE);
    return to.resolve("report.xlsx");
  }

  /** Every formula of a workbook with the number or words that both found. */
  private static Map<String, Object> assertComputedAlike(Path report) throws Exception {
    Path blank = Files.createTempDirectory(temp, "blank").resolve("report.xlsx");
    Map<String, Object> expected = withoutResults(report, blank, workbook -> {});
    Map<String, Object> found = results(recalculated(blank), expected);
    List<String> apart = new ArrayList<>();
    expected.forEach(
        (cell, value) -> {
          Object again = found.get(cell);
          boolean alike =
              (value instanceof Double number && again instanceof Double other)
                  ? Math.abs(other - number) <= Math.max(NEAR_ZERO, RELATIVE * Math.abs(number))
                  : value.equals(again);
          if (!alike) {
            apart.add(cell + ": " + value + " but " + again);
          }
        });
    assertThat(apart).isEmpty();
    assertThat(expected).isNotEmpty();
    return expected;
  }

  /** Writes a copy without results of formulas; returns the results by sheet and cell. */
  private static Map<String, Object> withoutResults(
      Path workbook, Path blank, Consumer<XSSFWorkbook> change) throws IOException {
    Map<String, Object> results = new TreeMap<>();
    try (InputStream in = Files.newInputStream(workbook);
        XSSFWorkbook book = new XSSFWorkbook(in);
        OutputStream out = Files.newOutputStream(blank)) {
      change.accept(book);
      for (Sheet sheet : book) {
        for (Row row : sheet) {
          for (Cell cell : row) {
            if (cell.getCellType() == CellType.FORMULA) {
              results.put(nameOf(cell), resultOf(cell, cell.getCachedFormulaResultType()));
              if (((XSSFCell) cell).getCTCell().isSetV()) {
                ((XSSFCell) cell).getCTCell().unsetV();
              }
            }
          }
        }
      }
      book.write(out);
    }
    return results;
  }

  private static Object resultOf(Cell cell, CellType type) {
    return type == CellType.NUMERIC
        ? (Object) cell.getNumericCellValue()
        : cell.getStringCellValue();
  }

  private static String nameOf(Cell cell) {
    return cell.getSheet().getSheetName() + "!" + cell.getAddress().formatAsString();
  }

  private static Path recalculated(Path workbook) throws IOException, InterruptedException {
    Path out = Files.createDirectories(temp.resolve("recalculated-" + System.nanoTime()));
    Path log = out.resolve("soffice.log");
    Process process =
        new ProcessBuilder(
                soffice().orElseThrow().toString(),
                // a profile of its own, so that nothing of the user's is read or written
                "-env:UserInstallation=" + temp.resolve("profile").toUri(),
                "--headless",
                "--convert-to",
                "xlsx",
                "--outdir",
                out.toString(),
                workbook.toString())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    if (!process.waitFor(SECONDS, TimeUnit.SECONDS)) {
      process.destroyForcibly();
      throw new IOException("LibreOffice did not end within " + SECONDS + " s");
    }
    Path result = out.resolve("report.xlsx");
    assertThat(result).as(Files.readString(log)).isRegularFile();
    return result;
  }

  /** What stands in the cells that held formulas; none of them is an error. */
  private static Map<String, Object> results(Path workbook, Map<String, Object> formulas)
      throws IOException {
    Map<String, Object> results = new TreeMap<>();
    List<String> inError = new ArrayList<>();
    try (InputStream in = Files.newInputStream(workbook);
        XSSFWorkbook book = new XSSFWorkbook(in)) {
      for (Sheet sheet : book) {
        for (Row row : sheet) {
          for (Cell cell : row) {
            CellType type =
                cell.getCellType() == CellType.FORMULA
                    ? cell.getCachedFormulaResultType()
                    : cell.getCellType();
            if (type == CellType.ERROR) {
              inError.add(nameOf(cell));
            } else if (formulas.containsKey(nameOf(cell))) {
              results.put(nameOf(cell), resultOf(cell, type));
            }
          }
        }
      }
    }
    assertThat(inError).as("cells in error").isEmpty();
    return results;
  }

  /** A study that nobody would want to show: see {@link #into}. */
  private static final class UglyStudy {
    private static final double[] LOADS = {0, 0.001, 20, 5000, 20, 0};

    private UglyStudy() {}

    /**
     * One lot, three cells and three boards with serials of 40 characters that a spreadsheet could
     * take for something else, a run missing, a run cut short, tiny and huge numbers.
     */
    static Path into(Path folder) throws IOException {
      List<String> cells = serials("=SUM(A1:A9)", "@", "-7+3");
      List<String> boards = serials("*", "?>5", "TRUE");
      Files.writeString(
          folder.resolve("study.yaml"),
          String.format(
              Locale.ROOT,
              """
              format: lotproof-study-1
              title: "=HYPERLINK(1) ugly"
              question: "Which error of reading?"
              seed: 7
              kit: {cell: "cell", board: "board", capacity: 5000 kg, default-factor: 400 counts/kg, converter-scale: 50000 counts/(mV/V)}
              lots:
                cells:
                  - {lot: "=1+1", units: ["%s", "%s", "%s"]}
                boards:
                  - {lot: "+B", units: ["%s", "%s", "%s"]}
              design:
                kind: rotation
                loads: [0 kg, 0.001 kg, 20 kg, 5000 kg, 20 kg, 0 kg]
                pairs: [%s]
              reduction: {reference-line: least-squares}
              limits:
                sensitivity: {lower: 1.9 mV/V}
              claim:
                content: 0.9
                confidence: 0.9
                rounding: 0.1 g
                levels:
                  - {level: none}
                  - {level: multi-point, at: [0.001 kg, 20 kg, 5000 kg], mass-class: M1}
              causes: [bench damage]
              conditions: {temperature: {lowest: 19 °C, highest: 25 °C}, bench-mass-class: F2}
              """,
              cells.get(0),
              cells.get(1),
              cells.get(2),
              boards.get(0),
              boards.get(1),
              boards.get(2),
              pairs(cells, boards)));
      Path bench = Files.writeString(folder.resolveSibling("ugly-bench.csv"), bench(cells, boards));
      Ran imported = Ran.lotproof("import", folder, bench);
      assertThat(imported.exit()).as(imported.err()).isEqualTo(Exit.DONE);
      return folder;
    }

    private static List<String> serials(String... starts) {
      return Stream.of(starts).map(s -> s + "-".repeat(40 - s.length())).toList();
    }

    private static String pairs(List<String> cells, List<String> boards) {
      List<String> pairs = new ArrayList<>();
      for (String cell : cells) {
        for (String board : boards) {
          pairs.add("{cell: \"" + cell + "\", board: \"" + board + "\", runs: 1}");
        }
      }
      return String.join(", ", pairs);
    }

    private static String bench(List<String> cells, List<String> boards) {
      StringBuilder csv =
          new StringBuilder("session,run,step,cell,board,load [kg],output [counts],remark\n");
      int number = 0;
      for (int c = 0; c < 3; c++) {
        for (int b = 0; b < 3; b++) {
          number++;
          int steps = number == 5 ? 4 : LOADS.length;
          for (int step = 0; number != 9 && step < steps; step++) {
            double counts =
                LOADS[step] * 400 * (1 + 1e-4 * c - 2e-4 * b + 1e-9 * number) + c * 1e-3 - b * 7e5;
            csv.append(
                String.format(
                    Locale.ROOT,
                    "S1,R%d,%d,\"%s\",\"%s\",%s,%.9g,\"=1+1\"%n",
                    number,
                    step + 1,
                    cells.get(c),
                    boards.get(b),
                    LOADS[step],
                    counts + 0.01 * step * (number % 4)));
          }
        }
      }
      return csv.toString();
    }
  }
}
