package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** What no kit can show is asked at every door, with its place and the option that answers. */
class ImpossibleReadingsTest {
  private static final double[] LOADS = {0, 20, 50, 20, 0};
  private static final double[] OUTPUTS = {-15063.2, 1702954.9, 4279951.1, 1703251.4, -15010.7};
  private static final int FILE_LINES_OF_A_RUN = LOADS.length;

  @TempDir Path temp;
  private Path study;

  @BeforeEach
  void anEmptyStudy() {
    BenchFile.emptyStudy(temp.resolve("study"));
    study = temp.resolve("study");
  }

  /** Load, output and temperature of two runs, one line a reading, below a header. */
  private static List<String[]> cells() {
    List<String[]> rows = new ArrayList<>();
    rows.add("run,step,cell,board,load [kg],output [counts],cell temperature [°C]".split(",", -1));
    for (int run = 1; run <= 2; run++) {
      for (int i = 0; i < LOADS.length; i++) {
        String unit = "A-00" + run;
        rows.add(
            new String[] {
              "R" + run,
              Integer.toString(i + 1),
              "C" + unit,
              "B" + unit,
              Double.toString(LOADS[i]),
              Double.toString(OUTPUTS[i] + 900 * run + i),
              Double.toString(21.5 + 0.1 * i)
            });
      }
    }
    return rows;
  }

  private Path file(List<String[]> rows) throws IOException {
    List<String> lines = rows.stream().map(row -> String.join(",", row)).toList();
    return Files.writeString(temp.resolve("bench.csv"), String.join("\n", lines) + "\n");
  }

  private Ran imported(List<String[]> rows, Object... more) throws IOException {
    List<Object> words = new ArrayList<>(List.of("import", study, file(rows)));
    words.addAll(List.of(more));
    return Ran.lotproof(words.toArray());
  }

  @Test
  void theFileAsItIsIsTakenWithoutAWord() throws IOException {
    Ran ran = imported(cells());
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.err()).isEmpty();
  }

  /** Column, factor, step counted from 0. */
  static Stream<Arguments> absurdValues() {
    List<Arguments> all = new ArrayList<>();
    for (int step = 0; step < LOADS.length; step++) {
      for (double factor : new double[] {1000, 256, 10, 1e200, 0.001, -1}) {
        all.add(Arguments.of(5, factor, step));
        if (LOADS[step] > 0 && factor > 0) {
          all.add(Arguments.of(4, factor, step));
        }
        all.add(Arguments.of(6, factor, step));
      }
      all.add(Arguments.of(6, 71 / 21.5, step));
    }
    return all.stream();
  }

  @ParameterizedTest(name = "column {0} times {1} in step {2}")
  @MethodSource("absurdValues")
  void oneAbsurdValueKeepsTheFileOut(int column, double factor, int step) throws IOException {
    List<String[]> rows = cells();
    int line = FILE_LINES_OF_A_RUN + step + 1;
    double value = Double.parseDouble(rows.get(line)[column]) * factor;
    rows.get(line)[column] = Double.toString(value);

    Ran ran = imported(rows);

    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("error: bench.csv, line " + (line + 1) + ", column ");
    assertThat(Files.exists(study.resolve("readings.csv"))).isFalse();
  }

  @Test
  void aPersonWhoKnowsBetterAcceptsIt() throws IOException {
    List<String[]> rows = cells();
    rows.get(3)[5] = "42799511";
    Ran ran = imported(rows);
    assertThat(ran.err())
        .contains("reads as if 498.254 kg lay on a cell of 50 kg", "--accept READING_DOUBTFUL");
    Ran accepted = imported(rows, "--accept", "READING_DOUBTFUL");
    assertThat(accepted.exit()).as(accepted.err()).isEqualTo(Exit.DONE);
    assertThat(accepted.err()).contains("warning: bench.csv, line 4", "accepted: ");
  }

  @ParameterizedTest
  @CsvSource({
    "4.656612873e-7, are the outputs in mV/V?, output [mV/V]",
    "4.656612873e-4, are the outputs in µV/V?, output [µV/V]",
    "256, do 24-bit codes fill the upper bytes of 32 bits?, 256",
    "0.01, is a percentage, 100 times"
  })
  void aWrongUnitOfAllOutputsIsRefused(double factor, String asked, String option)
      throws IOException {
    List<String[]> rows = cells();
    for (String[] row : rows.subList(1, rows.size())) {
      row[5] = Double.toString(Double.parseDouble(row[5]) * factor);
    }
    Ran ran = imported(rows);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains(asked, option, "--accept SLOPE_DOUBTFUL", "counts per kg");
  }

  @Test
  void aWrongUnitNeverBecomesTheNorm() throws IOException {
    List<String[]> rows = cells().subList(0, 1);
    rows = new ArrayList<>(rows);
    for (int run = 1; run <= 8; run++) {
      for (int i = 0; i < LOADS.length; i++) {
        rows.add(
            new String[] {
              "W" + run,
              Integer.toString(i + 1),
              "CA-001",
              "BA-001",
              Double.toString(LOADS[i]),
              Double.toString((OUTPUTS[i] + run + i) * 256),
              "21"
            });
      }
    }
    assertThat(imported(rows, "--accept", "SLOPE_DOUBTFUL").exit()).isEqualTo(Exit.DONE);
    rows.forEach(row -> row[0] = row[0].replace("W", "X"));
    Ran again = imported(rows);
    assertThat(again.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(again.err()).contains("SLOPE_DOUBTFUL");
  }

  @Test
  void loadAndOutputExchangedIsRefused() throws IOException {
    List<String[]> rows = cells();
    for (String[] row : rows.subList(1, rows.size())) {
      String load = row[4];
      row[4] = row[5].startsWith("-") ? "0" : row[5];
      row[5] = load;
    }
    Ran ran = imported(rows);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("on a cell of 50 kg: are load and output exchanged?");
  }

  @Test
  void statedBitsBoundTheCodes() throws IOException {
    Path file = study.resolve("study.yaml");
    String text = Files.readString(file);
    Files.writeString(
        file, text.replace("  converter-scale:", "  converter-bits: 22\n  converter-scale:"));
    List<String[]> rows = cells();
    rows.get(3)[5] = "4400000";
    assertThat(imported(rows).err()).contains("4400000 is no code of a converter of 22 bits");
    Files.writeString(
        file, text.replace("  converter-scale:", "  converter-bits: 99\n  converter-scale:"));
    assertThat(imported(rows).err()).contains("converter-bits");
  }

  @ParameterizedTest
  @CsvSource({"Temp (F)", "temp_F", "T [°F]"})
  void aHintForFahrenheitConverts(String header) throws IOException {
    List<String[]> rows = cells();
    rows.get(0)[6] = header;
    for (String[] row : rows.subList(1, rows.size())) {
      row[6] = "70";
    }
    Ran ran = imported(rows);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("--column \"" + header + "=cell temperature [°F]\"")
        .doesNotContain("°C]\"");
    Ran followed = imported(rows, "--column", header + "=cell temperature [°F]");
    assertThat(followed.exit()).as(followed.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv"))).contains(",21.11");
  }

  @Test
  void aTemperatureFarFromTheStudyIsAskedEvenUnderItsOwnUnit() throws IOException {
    List<String[]> rows = cells();
    for (String[] row : rows.subList(1, rows.size())) {
      row[6] = "70";
    }
    Ran ran = imported(rows);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains(
            "a cell temperature of 70 °C in a study at 18 to 26 °C",
            "as °F it would be 21.1 °C",
            "--accept TEMPERATURE_DOUBTFUL");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0%|0.05|shows 5% and holds 0.05",
        "0.0\" g\"|20|in g, and the column is in kg",
        "#,##0,|12500|shows 13 and holds 12500"
      })
  void aCellThatShowsAnotherNumberIsRefused(String format, double load, String message)
      throws IOException {
    Path book = temp.resolve("bench.xlsx");
    try (XSSFWorkbook workbook = new XSSFWorkbook();
        OutputStream out = Files.newOutputStream(book)) {
      var sheet = workbook.createSheet("readings");
      CellStyle style = workbook.createCellStyle();
      style.setDataFormat(workbook.createDataFormat().getFormat(format));
      List<String[]> rows = cells();
      for (int r = 0; r < rows.size(); r++) {
        Row row = sheet.createRow(r);
        String[] texts = rows.get(r);
        IntStream.range(0, texts.length)
            .forEach(
                c -> {
                  boolean number = row.getRowNum() > 0 && (c == 1 || c > 3);
                  if (number) {
                    row.createCell(c).setCellValue(Double.parseDouble(texts[c]));
                  } else {
                    row.createCell(c).setCellValue(texts[c]);
                  }
                });
      }
      sheet.getRow(2).getCell(4).setCellValue(load);
      sheet.getRow(2).getCell(4).setCellStyle(style);
      workbook.write(out);
    }
    Ran ran = Ran.lotproof("import", study, book);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("line 3, column load [kg]").contains(message);
  }

  @Test
  void aLaterLotIsAskedTheSame() throws IOException {
    List<String[]> rows = cells();
    rows.subList(1, rows.size()).forEach(row -> row[2] = row[2].replace("CA", "CX"));
    rows.subList(1, rows.size()).forEach(row -> row[3] = row[3].replace("BA", "BX"));
    rows.get(2)[5] = "17029549";
    rows.get(7)[6] = "71";
    List<Object> words = List.of("watch", study, file(rows), "--lot", "X", "--date", "2027-03-01");
    Ran ran = Ran.lotproof(words.toArray());
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("READING_DOUBTFUL", "TEMPERATURE_DOUBTFUL", "line 3", "line 8");
    List<Object> accepting = new ArrayList<>(words);
    accepting.addAll(List.of("--accept", "READING_DOUBTFUL,TEMPERATURE_DOUBTFUL"));
    assertThat(Ran.lotproof(accepting.toArray()).err()).doesNotContain("--accept READING_DOUBTFUL");
  }

  private Ran typed(String input) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int exit =
        Main.run(
            new CliContext(
                new PrintWriter(out),
                new PrintWriter(err),
                new BufferedReader(new StringReader(input)),
                false),
            "enter",
            study.toString());
    return new Ran(exit, out.toString(), err.toString());
  }

  @Test
  void typingIsAskedTheSame() throws IOException {
    String zero = "\n\n70\n21.5\n3000000000\n900\n1718900\n4295900\n1718950\n9050\n905\n";
    Ran ran = typed(zero + "\nquit\n");
    assertThat(ran.out())
        .contains("a cell temperature of 70 °C in a study at 18 to 26 °C")
        .contains("the output 3000000000 under 0 kg reads as if")
        .contains("the output 9050 under 0 kg is 10 times too large")
        .contains("recorded");
    assertThat(Files.readString(study.resolve("readings.csv"))).contains(",905,");
  }

  @Test
  void aDoubtThatStaysNeedsAYes() throws IOException {
    String doubtful = "\n\n21.5\n900\n1718900\n4295900\n1718950\n9050\n9050\n";
    Ran ran = typed(doubtful + "\nquit\n");
    assertThat(ran.out()).contains("Type yes if it is right").doesNotContain("recorded");
    assertThat(Files.exists(study.resolve("readings.csv"))).isFalse();
    assertThat(typed("yes\nquit\n").out()).contains("recorded");
  }
}
