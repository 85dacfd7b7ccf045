package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.apache.poi.hssf.usermodel.HSSFWorkbook;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Font;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.SheetVisibility;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.xssf.usermodel.XSSFRichTextString;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Nothing that looks like readings stays unread without a word: second tables, sheets, hidden and
 * struck parts are questions, and each has an option that answers it.
 */
class LeftUnreadTest {
  private static final String SHORT = "run,step,cell,board,load [kg],output [counts]\n";
  private static final String LONG = "session,time," + SHORT.strip() + ",noise [counts]\n";
  private static final double[] LOADS = {0, 20, 50, 20, 0};
  private static final double[] OUTPUTS = {1204.5, 1719310.2, 4296120.8, 1719342.6, 1209.1};

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void newStudy() {
    study = BenchFile.emptyStudy(temp.resolve("study")).root();
  }

  private Ran imported(Object... words) {
    return Ran.lotproof(
        Stream.concat(Stream.of("import", study, "--yes"), Stream.of(words)).toArray());
  }

  private void refused(Ran ran, String... said) {
    assertThat(ran.exit()).as(ran.out() + ran.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains(said);
    assertThat(study.resolve("readings.csv")).doesNotExist();
  }

  private void kept(Ran ran, int readings) throws IOException {
    assertThat(ran.exit()).as(ran.out() + ran.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv")).lines()).hasSize(readings + 1);
  }

  private static String run(String before, String run, String pair, String after) {
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < LOADS.length; i++) {
      rows.append(before).append(run).append(',').append(i + 1).append(',').append(pair);
      rows.append(',').append(LOADS[i]).append(',').append(output(run, i));
      rows.append(after).append('\n');
    }
    return rows.toString();
  }

  /** Two runs never read the same to the last digit. */
  private static double output(String run, int step) {
    return OUTPUTS[step] + (run.endsWith("1") ? 0 : 0.1 * (step + 1));
  }

  private Path text(String content) throws IOException {
    return Files.writeString(temp.resolve("bench.csv"), content);
  }

  private static String twoTables() {
    return SHORT
        + run("", "R1", "CA-001,BA-001", "")
        + "\n"
        + LONG
        + run("S1,2026-03-04T09:30,", "R2", "CA-002,BA-002", ",11.8");
  }

  @Test
  void aTableAboveWithFewerColumnsIsAsked() throws IOException {
    Path file = text(twoTables());
    refused(
        imported(file),
        "bench.csv, line 1",
        "rows 1 and 8 name columns of readings",
        "--header-row 1 or 8");
    // each table by itself, one after the other, and each is recognised when it comes again
    kept(imported(file, "--header-row", 8), 5);
    kept(imported(file, "--header-row", 1), 10);
    Ran again = imported(file, "--header-row", 1);
    assertThat(again.out()).contains("already imported");
    kept(again, 10);
  }

  @Test
  void aTableWithAnotherSeparatorIsAsked() throws IOException {
    refused(
        imported(text(twoTables().replace(SHORT, SHORT.replace(',', ';')))),
        "rows 1 and 8 name columns",
        "--header-row");
  }

  @Test
  void aTableBelowIsAskedToo() throws IOException {
    String below =
        LONG
            + run("S1,2026-03-04T09:30,", "R2", "CA-002,BA-002", ",11.8")
            + "\n"
            + SHORT
            + run("", "R1", "CA-001,BA-001", "");
    refused(imported(text(below)), "rows 1 and 8 name columns", "--header-row 1 or 8");
    kept(imported(text(below), "--header-row", 1), 5);
  }

  @Test
  void readingsAboveTheHeaderAreAsked() throws IOException {
    String rows = run("", "R1", "CA-001,BA-001", "");
    int second = rows.indexOf('\n') + 1;
    Path file = text(rows.substring(0, second) + SHORT + rows.substring(second));
    refused(
        imported(file),
        "bench.csv, line 1",
        "stands above the row that names the columns and looks like a reading",
        "--header-row 2");
    kept(imported(file, "--header-row", 2), 4);
  }

  @Test
  void aHeaderRowThatNamesNothingIsSaid() throws IOException {
    refused(
        imported(text(twoTables()), "--header-row", 3),
        "row \"3\" names no columns of readings (--header-row)");
  }

  @Test
  void notesAndBlocksWithTheSameHeaderAreNoOtherTable() throws IOException {
    String notes =
        "Hive scale, bench 2, CA-001 to CA-002 on BA-001\nTemperature:,21 °C\n\n"
            + SHORT
            + run("", "R1", "CA-001,BA-001", "")
            + SHORT
            + run("", "R2", "CA-002,BA-002", "");
    Ran ran = imported(text(notes));
    kept(ran, 10);
    assertThat(ran.err()).isEmpty();
  }

  private Path workbook(Workbook workbook, Consumer<Workbook> change) throws IOException {
    try (workbook) {
      sheet(workbook, "readings", "R1", "CA-001", "BA-001");
      change.accept(workbook);
      String ending = workbook instanceof HSSFWorkbook ? ".xls" : ".xlsx";
      Path file = temp.resolve("bench" + ending);
      try (OutputStream out = Files.newOutputStream(file)) {
        workbook.write(out);
      }
      return file;
    }
  }

  private static Workbook empty(String kind) {
    return kind.equals("xls") ? new HSSFWorkbook() : new XSSFWorkbook();
  }

  private static Sheet sheet(
      Workbook workbook, String name, String run, String cell, String board) {
    Sheet sheet = workbook.createSheet(name);
    header(sheet);
    rows(sheet, 1, run, cell, board);
    return sheet;
  }

  private static void header(Sheet sheet) {
    Row row = sheet.createRow(0);
    String[] names = SHORT.strip().split(",", -1);
    for (int i = 0; i < names.length; i++) {
      row.createCell(i).setCellValue(names[i]);
    }
  }

  private static void rows(Sheet sheet, int from, String run, String cell, String board) {
    for (int i = 0; i < LOADS.length; i++) {
      Row row = sheet.createRow(from + i);
      row.createCell(0).setCellValue(run);
      row.createCell(1).setCellValue(i + 1);
      row.createCell(2).setCellValue(cell);
      row.createCell(3).setCellValue(board);
      row.createCell(4).setCellValue(LOADS[i]);
      row.createCell(5).setCellValue(output(run, i));
    }
  }

  private static void strike(Cell cell) {
    Workbook workbook = cell.getSheet().getWorkbook();
    Font font = workbook.createFont();
    font.setStrikeout(true);
    CellStyle style = workbook.createCellStyle();
    style.setFont(font);
    cell.setCellStyle(style);
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void aWorkbookWithNotesIsKeptWithoutAWord(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              Sheet units = workbook.createSheet("units");
              units.createRow(0).createCell(0).setCellValue("cell");
              units.createRow(1).createCell(0).setCellValue("CA-001");
              Sheet hidden = workbook.createSheet("lists");
              hidden.createRow(0).createCell(0).setCellValue("bench damage");
              workbook.setSheetVisibility(2, SheetVisibility.VERY_HIDDEN);
              workbook.getSheetAt(0).setColumnHidden(9, true);
            });
    Ran ran = imported(file);
    kept(ran, 5);
    assertThat(ran.err()).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void aHiddenSheetNeverWins(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              sheet(workbook, "Tuesday", "R2", "CA-002", "BA-002");
              workbook.setActiveSheet(1);
              workbook.setSheetVisibility(0, SheetVisibility.HIDDEN);
            });
    refused(
        imported(file),
        "several sheets look like readings",
        "\"readings\", which is hidden",
        "--sheet Tuesday or readings");
    kept(imported(file, "--sheet", "Tuesday"), 5);
    assertThat(Files.readString(study.resolve("readings.csv"))).contains("CA-002");
  }

  @Test
  void theOnlySheetIsAskedForWhenItIsHidden() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> {
              workbook.createSheet("Notes").createRow(0).createCell(0).setCellValue("all fine");
              workbook.setActiveSheet(1);
              workbook.setSheetVisibility(0, SheetVisibility.VERY_HIDDEN);
            });
    refused(imported(file), "\"readings\", is hidden", "--sheet readings");
    kept(imported(file, "--sheet", "readings"), 5);
  }

  @Test
  void aSecondSheetOfReadingsIsAskedForWhateverItsName() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> sheet(workbook, "readings (2)", "R2", "CA-002", "BA-002"));
    refused(imported(file), "several sheets look like readings", "--sheet");
  }

  @Test
  void aSheetThatGoesOnWithoutAHeaderIsAskedFor() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> rows(workbook.createSheet("page 2"), 0, "R2", "CA-002", "BA-002"));
    refused(
        imported(file),
        "sheet \"page 2\" has rows that look like readings, the first in row 1",
        "--sheet readings");
    kept(imported(file, "--sheet", "readings"), 5);
  }

  @Test
  void twoTablesInASheetAreAsked() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> {
              Sheet sheet = workbook.getSheetAt(0);
              Row header = sheet.createRow(8);
              String[] names = LONG.strip().split(",", -1);
              for (int i = 0; i < names.length; i++) {
                header.createCell(i).setCellValue(names[i]);
              }
            });
    refused(imported(file), "rows 1 and 9 name columns", "--header-row 1 or 9");
    kept(imported(file, "--header-row", 1), 5);
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void hiddenRowsAreTakenOrLeft(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              Sheet sheet = workbook.getSheetAt(0);
              rows(sheet, 6, "R2", "CA-002", "BA-002");
              for (int i = 6; i < 11; i++) {
                sheet.getRow(i).setZeroHeight(true);
              }
            });
    refused(
        imported(file),
        "line 7",
        "row 7 is hidden, and so are 4 more places",
        "--hidden take or leave");
    Ran taken = imported(file, "--hidden", "take", "--dry-run");
    assertThat(taken.words()).contains("10 readings of 2 runs").contains("5 taken, as told");
    Ran left = imported(file, "--hidden", "leave");
    kept(left, 5);
    assertThat(left.out()).contains("5 left out, as told");
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void hiddenColumnsAndCellsAreTakenOrLeft(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              Sheet sheet = workbook.getSheetAt(0);
              for (int i = 0; i < 6; i++) {
                Cell cell = sheet.getRow(i).createCell(6);
                if (i == 0) {
                  cell.setCellValue("noise [counts]");
                } else {
                  cell.setCellValue(12.5);
                }
              }
              sheet.setColumnHidden(6, true);
            });
    refused(
        imported(file), "column noise [counts]", "column G is hidden", "--hidden take or leave");
    kept(imported(file, "--hidden", "leave"), 5);
    assertThat(Files.readString(study.resolve("readings.csv"))).doesNotContain("12.5");
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void aCellThatShowsNothingIsHidden(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              CellStyle style = workbook.createCellStyle();
              style.setDataFormat(workbook.createDataFormat().getFormat(";;;"));
              workbook.getSheetAt(0).getRow(3).getCell(5).setCellStyle(style);
            });
    refused(imported(file), "line 4, column output [counts]", "cell F4 is hidden", "--hidden");
    kept(imported(file, "--hidden", "take"), 5);
  }

  @ParameterizedTest
  @ValueSource(strings = {"xlsx", "xls"})
  void valuesStruckThroughAreTakenOrVoid(String kind) throws IOException {
    Path file =
        workbook(
            empty(kind),
            workbook -> {
              Sheet sheet = workbook.getSheetAt(0);
              rows(sheet, 7, "R1", "CA-001", "BA-001");
              for (int i = 1; i < 6; i++) {
                strike(sheet.getRow(i).getCell(5));
                sheet.getRow(i).getCell(5).setCellValue(OUTPUTS[i - 1] + 90);
              }
            });
    refused(
        imported(file),
        "line 2, column output [counts]",
        "cell F2 is struck through, and so are 4 more places",
        "--struck take or leave");
    Ran left = imported(file, "--struck", "leave");
    kept(left, 5);
    assertThat(left.out()).contains("5 left out, as told");
    assertThat(Files.readString(study.resolve("readings.csv")))
        .contains("1204.5")
        .doesNotContain("1294.5");
  }

  @Test
  void aStruckOutputOfARunInOneRowLeavesOutItsStep() throws IOException {
    Path file = temp.resolve("wide.xlsx");
    try (XSSFWorkbook workbook = new XSSFWorkbook();
        OutputStream out = Files.newOutputStream(file)) {
      Sheet sheet = workbook.createSheet("readings");
      Row header = sheet.createRow(0);
      Row row = sheet.createRow(1);
      String[] names = {"run", "cell", "board"};
      String[] values = {"R1", "CA-001", "BA-001"};
      for (int i = 0; i < 3; i++) {
        header.createCell(i).setCellValue(names[i]);
        row.createCell(i).setCellValue(values[i]);
      }
      for (int i = 0; i < LOADS.length; i++) {
        header.createCell(3 + i).setCellValue((int) LOADS[i] + " kg [counts]");
        row.createCell(3 + i).setCellValue(OUTPUTS[i]);
      }
      strike(row.getCell(7));
      workbook.write(out);
    }
    refused(imported(file), "cell H2 is struck through", "--struck");
    Ran left = imported(file, "--struck", "leave");
    kept(left, 4);
    assertThat(left.err()).contains("lacks step 5 of 5");
  }

  @Test
  void textThatIsStruckWithinItsCellIsSeen() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> {
              Font font = workbook.createFont();
              font.setStrikeout(true);
              XSSFRichTextString text = new XSSFRichTextString("CA-001");
              text.applyFont(font);
              workbook.getSheetAt(0).getRow(2).getCell(2).setCellValue(text);
            });
    refused(imported(file), "line 3, column cell", "cell C3 is struck through", "--struck");
  }

  @Test
  void leftRowsHideNoFormula() throws IOException {
    Path file =
        workbook(
            new XSSFWorkbook(),
            workbook -> {
              Row sum = workbook.getSheetAt(0).createRow(7);
              sum.createCell(5).setCellFormula("SUM(F2:F6)");
              sum.setZeroHeight(true);
            });
    refused(imported(file), "row 8 is hidden", "cell F8 holds a formula");
    kept(imported(file, "--hidden", "leave"), 5);
  }

  @Test
  void aWideTableWithAnotherBelowIsSaid() throws IOException {
    StringBuilder csv =
        new StringBuilder(
            "run,cell,board,date,operator,remark,0 kg [counts],20 kg [counts],50 kg [counts],20 kg"
                + " [counts],0 kg [counts]\n");
    csv.append("R1,CA-001,BA-001,,,,1204.5,1719310.2,4296120.8,1719342.6,1209.1\n");
    csv.append("1,R2,CA-002,BA-002,0,,,,,,\n");
    refused(
        imported(text(csv.toString()), "--column", "operator=ignore"),
        "bench.csv, line 3",
        "serial in another column");
  }
}
