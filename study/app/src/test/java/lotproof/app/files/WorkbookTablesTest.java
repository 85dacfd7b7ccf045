package lotproof.app.files;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.Consumer;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import lotproof.app.Imports;
import lotproof.folder.Appended;
import lotproof.folder.StudyFolder;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WorkbookTablesTest {
  private static final String STUDY =
      """
      format: lotproof-study-1
      title: Hive scale
      question: Which error of reading?
      seed: 1
      kit: {cell: c, board: b, capacity: 50 kg, default-factor: 85899 counts/kg, converter-scale: 2147483.648 counts/(mV/V)}
      lots:
        cells: [{lot: CA, units: ["0012", "CA-002"]}]
        boards: [{lot: BA, units: [BA-001]}]
      design: {kind: rotation, loads: [0 kg, 50 kg, 0 kg]}
      causes: [bench damage]
      claim: {content: 0.95, confidence: 0.95, rounding: 1 g, levels: [{level: none}]}
      conditions: {temperature: {lowest: 18 °C, highest: 26 °C}, bench-mass-class: M1}
      """;
  private static final List<String> HEADER =
      List.of(
          "session",
          "time",
          "run",
          "step",
          "cell",
          "board",
          "load [kg]",
          "output [counts]",
          "remark");
  private static final TableReaders READERS = new TableReaders(new WorkbookTables());

  @TempDir Path root;
  private StudyFolder folder;

  @BeforeEach
  void anEmptyStudy() throws IOException {
    Files.createDirectory(root.resolve("study"));
    Files.writeString(root.resolve("study/study.yaml"), STUDY);
    folder = StudyFolder.at(root.resolve("study"));
  }

  /** A sheet with one whole run. */
  private static void fill(XSSFSheet sheet) {
    Row header = sheet.createRow(0);
    for (int i = 0; i < HEADER.size(); i++) {
      header.createCell(i).setCellValue(HEADER.get(i));
    }
    double[] loads = {0, 50, 0};
    for (int step = 1; step <= 3; step++) {
      Row row = sheet.createRow(step);
      row.createCell(0).setCellValue("S1");
      row.createCell(1).setCellValue("2026-03-04T09:3" + step);
      row.createCell(2).setCellValue("R1");
      row.createCell(3).setCellValue(step);
      row.createCell(4).setCellValue("CA-002");
      row.createCell(5).setCellValue("BA-001");
      row.createCell(6).setCellValue(loads[step - 1]);
      row.createCell(7).setCellValue(100.1 + 85899.2 * loads[step - 1]);
    }
  }

  private Path workbook(Consumer<XSSFWorkbook> change) {
    try (XSSFWorkbook workbook = new XSSFWorkbook();
        ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      fill(workbook.createSheet("Sheet1"));
      change.accept(workbook);
      workbook.write(out);
      return Files.write(root.resolve("bench.xlsx"), out.toByteArray());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Cell cell(XSSFWorkbook workbook, int row, int column) {
    return workbook
        .getSheetAt(0)
        .getRow(row)
        .getCell(column, Row.MissingCellPolicy.CREATE_NULL_AS_BLANK);
  }

  private static CellStyle format(XSSFWorkbook workbook, String format) {
    CellStyle style = workbook.createCellStyle();
    style.setDataFormat(workbook.createDataFormat().getFormat(format));
    return style;
  }

  private List<String> imported(Consumer<XSSFWorkbook> change) {
    Result<Appended> outcome = Imports.importFile(folder, workbook(change), READERS);
    assertThat(outcome).matches(Imports::isNew);
    return sentences(outcome.issues());
  }

  private List<String> refused(Path file) {
    Result<Appended> outcome = Imports.importFile(folder, file, READERS);
    assertThat(outcome).matches(Result::isRefused);
    assertThat(readings()).isEmpty();
    return sentences(outcome.issues());
  }

  private List<String> refused(Consumer<XSSFWorkbook> change) {
    return refused(workbook(change));
  }

  private List<Reading> readings() {
    return folder.open().get().readings();
  }

  private static List<String> sentences(List<DataIssue> issues) {
    return issues.stream().map(i -> i.code() + " " + i.sentence()).toList();
  }

  @Test
  void readsValuesAsTheyAreStored() {
    assertThat(imported(workbook -> {})).isEmpty();

    List<Reading> readings = readings();
    assertThat(readings).extracting(Reading::loadKilograms).containsExactly(0.0, 50.0, 0.0);
    assertThat(readings.get(1).outputCounts()).isEqualTo(100.1 + 85899.2 * 50);
    assertThat(readings.get(1).time()).contains(LocalDateTime.of(2026, 3, 4, 9, 32));
    assertThat(readings.get(1).source().place()).isEqualTo("bench.xlsx, sheet Sheet1, row 3");
    assertThat(readings.get(1).step()).isEqualTo(2);
  }

  @Test
  void aFormulaIsNoReadingWhateverIsStoredBesideIt() {
    assertThat(
            refused(
                workbook -> {
                  cell(workbook, 2, 7).setCellFormula("G3*85899");
                  workbook.getCreationHelper().createFormulaEvaluator().evaluateAll();
                  cell(workbook, 3, 4).setCellFormula("\"CA-\"&\"002\"");
                }))
        .containsExactly(
            "VALUE_INVALID bench.xlsx, line 3, column output [counts]: cell H3 holds a formula"
                + " (stored value 4294950.0); a calculated value is no reading: give the value"
                + " itself",
            "VALUE_INVALID bench.xlsx, line 4, column cell: cell E4 holds a formula; a calculated"
                + " value is no reading: give the value itself");
  }

  @Test
  void errorsAndTruthValuesAreNoData() {
    assertThat(
            refused(
                workbook -> {
                  cell(workbook, 1, 6).setCellErrorValue(FormulaError.DIV0.getCode());
                  cell(workbook, 2, 8).setCellValue(true);
                }))
        .containsExactly(
            "VALUE_INVALID bench.xlsx, line 2, column load [kg]: cell G2 holds the error #DIV/0!",
            "VALUE_INVALID bench.xlsx, line 3, column remark: cell I3 holds the truth value TRUE");
  }

  @Test
  void datesAreTakenAsTimesAndNowhereElse() {
    assertThat(
            imported(
                workbook -> {
                  cell(workbook, 1, 1).setCellValue(LocalDateTime.of(2026, 3, 4, 9, 30, 15));
                  cell(workbook, 1, 1).setCellStyle(format(workbook, "d.m.yyyy hh:mm"));
                }))
        .isEmpty();
    assertThat(readings().get(0).time()).contains(LocalDateTime.of(2026, 3, 4, 9, 30, 15));
  }

  @Test
  void aDayWithoutATimeOfDayIsNoMidnight() {
    assertThat(
            imported(
                workbook -> {
                  for (int step = 1; step <= 3; step++) {
                    String shown = step == 3 ? "yyyy-mm-dd hh:mm" : "[White]yyyy-mm-dd";
                    cell(workbook, step, 1).setCellValue(LocalDate.of(2026, 3, 4));
                    cell(workbook, step, 1).setCellStyle(format(workbook, shown));
                  }
                }))
        .containsExactly(
            "VALUE_MISSING bench.xlsx, line 2, column time: \"2026-03-04\" has no time of day; 2"
                + " readings of the file are kept without a time, in the order of the file");
    assertThat(readings().stream().map(Reading::time))
        .containsExactly(
            Optional.empty(), Optional.empty(), Optional.of(LocalDateTime.of(2026, 3, 4, 0, 0)));
  }

  @Test
  void aSerialThatBecameADateIsRefused() {
    assertThat(
            refused(
                workbook -> {
                  for (int column : new int[] {4, 7}) {
                    cell(workbook, 1, column).setCellValue(LocalDate.of(2026, 3, 4));
                    cell(workbook, 1, column).setCellStyle(format(workbook, "yyyy-mm-dd"));
                  }
                }))
        .containsExactly(
            "SERIAL_DAMAGED bench.xlsx, line 2, column cell: the spreadsheet holds the date"
                + " 2026-03-04 here; format the column as text and type the cell again",
            "NOT_A_NUMBER bench.xlsx, line 2, column output [counts]: the spreadsheet holds the"
                + " date 2026-03-04 here, not a number");
  }

  @Test
  void daysMayCountFrom1904() {
    imported(
        workbook -> {
          workbook.getCTWorkbook().getWorkbookPr().setDate1904(true);
          cell(workbook, 1, 1).setCellValue(0.5 + 44623);
          cell(workbook, 1, 1).setCellStyle(format(workbook, "yyyy-mm-dd hh:mm"));
        });

    // 44623 days after 1904-01-01.
    assertThat(readings().get(0).time())
        .contains(LocalDate.of(1904, 1, 1).plusDays(44623).atTime(12, 0));
  }

  @Test
  void aTimeWithoutADateIsNoTime() {
    assertThat(
            refused(
                workbook -> {
                  cell(workbook, 1, 1).setCellValue(0.4);
                  cell(workbook, 1, 1).setCellStyle(format(workbook, "hh:mm"));
                }))
        .containsExactly(
            "VALUE_INVALID bench.xlsx, line 2, column time: \"09:36\" is not a local time; write it"
                + " as 2026-03-04T09:30");
  }

  @Test
  void numbersAsTextAreReadWithAWarningAndWordsAreNot() {
    assertThat(
            imported(
                workbook -> {
                  cell(workbook, 2, 6).setCellValue("50");
                  cell(workbook, 3, 6).setCellValue(" 0 ");
                }))
        .containsExactly(
            "NOT_A_NUMBER bench.xlsx, line 3, column load [kg]: \"50\" is stored as text and was"
                + " read as a number; cells of this kind in the file: 2");
  }

  @Test
  void aDecimalCommaInTextIsRefused() {
    assertThat(refused(workbook -> cell(workbook, 2, 7).setCellValue("4295,5")))
        .containsExactly(
            "NOT_A_NUMBER bench.xlsx, line 3, column output [counts]: \"4295,5\" is not a number;"
                + " write 4295.5 (beside numbers that are stored as numbers, a decimal comma is"
                + " read only when told, --decimal comma)");
  }

  @Test
  void aSerialThatIsANumberIsTakenAsShown() {
    imported(
        workbook -> {
          for (int row = 1; row <= 3; row++) {
            cell(workbook, row, 4).setCellValue(12);
            cell(workbook, row, 4).setCellStyle(format(workbook, "0000"));
            cell(workbook, row, 2).setCellValue(123456789012L);
          }
        });

    assertThat(readings()).extracting(Reading::cell).containsOnly("0012");
    assertThat(readings()).extracting(Reading::run).containsOnly("123456789012");
  }

  @Test
  void theSheetIsTheOnlyFilledOneOrTheOneNamedReadings() {
    assertThat(refused(workbook -> fill(workbook.createSheet("Tuesday"))))
        .containsExactly(
            "AMBIGUOUS bench.xlsx: several sheets look like readings (\"Sheet1\"; \"Tuesday\")."
                + " Which one has the readings? It is not guessed: say --sheet Sheet1 or Tuesday");
    imported(
        workbook -> {
          workbook.createSheet("Empty");
          workbook.createSheet("Notes").createRow(4).createCell(2).setCellValue("x");
          workbook.setSheetName(0, "readings");
        });
    assertThat(readings()).hasSize(3);
  }

  @Test
  void hiddenRowsAreAQuestion() {
    assertThat(refused(workbook -> workbook.getSheetAt(0).getRow(2).setZeroHeight(true)))
        .containsExactly(
            "AMBIGUOUS bench.xlsx, line 3: row 3 is hidden. Is what stands there a reading like the"
                + " others? It is not guessed: say --hidden take or leave");
  }

  @Test
  void anEmptyWorkbookIsEmpty() {
    assertThat(
            refused(
                workbook -> {
                  workbook.removeSheetAt(0);
                  workbook.createSheet("a");
                }))
        .containsExactly("FILE_EMPTY bench.xlsx: no sheet of the workbook holds anything");
  }

  @Test
  void anotherArchiveIsNoWorkbook() throws IOException {
    Path zip = root.resolve("photos.xlsx");
    try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(zip))) {
      out.putNextEntry(new ZipEntry("photo.txt"));
      out.write(new byte[100]);
    }
    assertThat(refused(zip))
        .containsExactly(
            "FILE_TYPE photos.xlsx: not a table of readings: it is a zip archive that is no .xlsx"
                + " workbook (save an .ods sheet as .xlsx); give a CSV, JSON, .xlsx or .xls file");
  }

  @Test
  void anArchiveThatUnpacksToFarMoreIsRefused() throws IOException {
    Path zip = root.resolve("bomb.xlsx");
    try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(zip))) {
      out.putNextEntry(new ZipEntry("[Content_Types].xml"));
      out.write("<Types/>".getBytes(StandardCharsets.UTF_8));
      out.putNextEntry(new ZipEntry("xl/workbook.xml"));
      out.write(new byte[20_000_000]);
    }
    assertThat(refused(zip))
        .hasSize(1)
        .allMatch(s -> s.startsWith("FILE_UNREADABLE bomb.xlsx: the workbook cannot be read ("))
        .allMatch(s -> s.contains("unpacks to far more than its size"));
  }

  @Test
  void aDamagedWorkbookIsRefusedAndNeverThrows() throws IOException {
    byte[] sound = Files.readAllBytes(workbook(w -> {}));
    long seed = 20260304;
    Random random = new Random(seed);
    int refusals = 0;
    for (int i = 0; i < 60; i++) {
      byte[] damaged = sound.clone();
      for (int j = 0; j < 20; j++) {
        damaged[4 + random.nextInt(damaged.length - 4)] = (byte) random.nextInt(256);
      }
      Path file = Files.write(root.resolve("d" + i + ".xlsx"), damaged);
      Result<Appended> outcome = Imports.preview(folder, file, READERS).outcome();
      refusals += outcome.isRefused() ? 1 : 0;
    }
    assertThat(refusals).as("seed %d", seed).isGreaterThan(30);
  }
}
