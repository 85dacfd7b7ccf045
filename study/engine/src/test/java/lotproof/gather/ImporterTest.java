package lotproof.gather;

import static lotproof.folder.Fixtures.opened;
import static lotproof.folder.Fixtures.sentences;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.Appended;
import lotproof.folder.Fixtures;
import lotproof.folder.StudyFolder;
import lotproof.gather.layout.ColumnUse;
import lotproof.study.DataIssue;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ImporterTest {
  private static final String HEADER =
      "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
          + "cell temperature [°C],board temperature [°C]\n";

  /** A whole run of the planned loads. */
  private static final String RUN =
      HEADER
          + "S1,2026-03-04T09:30,R1,1,CA-001,BA-001,0,120.5,12.5,21.5,23\n"
          + "S1,2026-03-04T09:31,R1,2,CA-001,BA-001,20,1718085,12.5,21.5,23\n"
          + "S1,2026-03-04T09:32,R1,3,CA-001,BA-001,50,4295062,12.5,21.5,23\n"
          + "S1,2026-03-04T09:33,R1,4,CA-001,BA-001,20,1718090,12.5,21.5,23\n"
          + "S1,2026-03-04T09:34,R1,5,CA-001,BA-001,0,121.5,12.5,21.5,23\n";

  @TempDir Path root;
  private StudyFolder folder;

  @BeforeEach
  void anEmptyStudy() {
    folder = Fixtures.folder(root.resolve("study"));
  }

  private Path file(String name, String text, Charset charset) {
    try {
      return Files.write(root.resolve(name), text.getBytes(charset));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private Result<Appended> take(String text) {
    return take("bench.csv", text, StandardCharsets.UTF_8);
  }

  private Result<Appended> take(String name, String text, Charset charset) {
    return Imports.importFile(folder, file(name, text, charset), Imports.TEXT_ONLY);
  }

  private List<String> refused(String text) {
    return refused(take(text));
  }

  private List<String> refused(Result<Appended> outcome) {
    assertThat(outcome).matches(Result::isRefused);
    assertThat(opened(folder).readings()).isEmpty();
    return sentences(outcome.issues());
  }

  private List<String> warned(String text) {
    Result<Appended> outcome = take(text);
    assertThat(outcome).matches(Imports::isNew);
    List<DataIssue> warnings = outcome.issues();
    assertThat(warnings).noneMatch(DataIssue::isError);
    return sentences(warnings);
  }

  @Test
  void takesTheTidyLayoutIn() throws IOException {
    Result<Appended> outcome = take(RUN);

    assertThat(outcome).matches(Imports::isNew);
    assertThat(outcome).isEqualTo(Result.of(new Appended(5, 0, false)));
    String sha256 = Importer.receive(root.resolve("bench.csv")).get().sha256();
    List<Reading> readings = opened(folder).readings();
    assertThat(readings).hasSize(5);
    assertThat(readings.get(1))
        .isEqualTo(
            new Reading(
                "S1",
                Optional.of(LocalDateTime.of(2026, 3, 4, 9, 31)),
                "R1",
                2,
                "CA-001",
                "BA-001",
                20,
                1718085,
                new Reading.Beside(
                    OptionalDouble.of(12.5), OptionalDouble.of(21.5), OptionalDouble.of(23), ""),
                new Provenance("bench.csv", sha256, 3),
                3));
    assertThat(folder.root().resolve("captures/" + sha256 + ".csv")).hasContent(RUN);
  }

  @Test
  void aHeaderThatComesAgainBelowAWideTableIsPassedOver() {
    String header =
        "run,cell,board,0 kg [counts],20 kg [counts],50 kg [counts],20 kg back [counts],"
            + "0 kg back [counts]\n";

    Result<Appended> outcome =
        take(
            header
                + "R1,CA-001,BA-001,120.5,1718085,4295062,1718090,121.5\n"
                + header
                + "R2,CA-002,BA-002,110.5,1718075,4295052,1718080,111.5\n");

    assertThat(outcome).isEqualTo(Result.of(new Appended(10, 0, false)));
    assertThat(opened(folder).readings())
        .extracting(reading -> reading.source().row())
        .containsExactly(2, 2, 2, 2, 2, 4, 4, 4, 4, 4);
  }

  @Test
  void optionalColumnsMayBeLeftOutAndStandInAnyOrder() {
    assertThat(
            warned(
                """
                output [counts];run;step;board;cell;load [kg];remark
                120;R1;1;BA-001;CA-001;0;"door ""open"" wide"
                1718085;R1;2;BA-001;CA-001;20;
                4295062;R1;3;BA-001;CA-001;50;
                1718085;R1;4;BA-001;CA-001;20;
                120;R1;5;BA-001;CA-001;0;
                """))
        .isEmpty();
    Reading first = opened(folder).readings().get(0);
    assertThat(first.beside().remark()).isEqualTo("door \"open\" wide");
    assertThat(first.session()).isEmpty();
    assertThat(first.time()).isEmpty();
    assertThat(first.beside().noiseCounts()).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {",", ";", "\t"})
  void separatorByteOrderMarkAndLineEndsDoNotMatter(String separator) {
    take(RUN);
    List<Reading> plain = opened(folder).readings();
    StudyFolder other = Fixtures.folder(root.resolve("other"));
    String text = "\uFEFF" + RUN.replace(",", separator).replace("\n", "\r\n") + "\r\n\r\n";

    Result<Appended> outcome =
        Imports.importFile(other, file("x.csv", text, StandardCharsets.UTF_8), Imports.TEXT_ONLY);

    assertThat(outcome).matches(Imports::isNew);
    assertThat(opened(other).readings())
        .usingRecursiveComparison()
        .ignoringFields("source.file", "source.sha256")
        .isEqualTo(plain);
  }

  @Test
  void unitsInTheHeaderAreConverted() {
    String text =
        """
        run,step,cell,board,load [lb],output [counts],cell temperature [°F]
        R1,1,CA-001,BA-001,0,120,68
        R1,2,CA-001,BA-001,44.1,1718085,68
        """;
    Preview preview =
        Imports.preview(folder, file("bench.csv", text, StandardCharsets.UTF_8), Imports.TEXT_ONLY);

    assertThat(preview.understood().columns())
        .contains(
            new ColumnUse(5, "load [lb]", "load [kg]", "lb to kg"),
            new ColumnUse(6, "output [counts]", "output [counts]", ""),
            new ColumnUse(7, "cell temperature [°F]", "cell temperature [°C]", "°F to °C"));
    assertThat(preview.understood().readings().get(1).loadKilograms()).isEqualTo(20.003423517);
    assertThat(preview.understood().readings().get(1).beside().cellTemperatureCelsius())
        .hasValue(20);
    assertThat(opened(folder).readings()).isEmpty();
    assertThat(folder.root().resolve("captures")).doesNotExist();
  }

  @Test
  void forcesBecomeMassesWithAWarning() {
    String text =
        RUN.replace("load [kg]", "load [N]")
            .replace("BA-001,20,", "BA-001,196.133,")
            .replace("BA-001,50,", "BA-001,490.3325,");

    assertThat(warned(text))
        .containsExactly(
            "UNIT_OF_MEASURE_DOUBTFUL bench.csv, line 1, column load [N]: forces become masses by"
                + " standard gravity, 9.80665 m/s²; gravity on the bench can differ by 0.3 %, which"
                + " is more than most figures allow");
    assertThat(opened(folder).readings())
        .extracting(Reading::loadKilograms)
        .containsExactly(0.0, 20.0, 50.0, 20.0, 0.0);
  }

  @Test
  void aDecimalCommaIsReadWhereSemicolonsSeparate() {
    String text = RUN.replace(",", ";").replace(".5;", ",5;");

    assertThat(warned(text)).isEmpty();
    assertThat(opened(folder).readings().get(0).outputCounts()).isEqualTo(120.5);
  }

  @Test
  void pointAndCommaInOneFileAreNotGuessed() {
    String text = RUN.replace(",", ";").replace("120.5;", "120,5;").replace("121.5", "1.215");

    assertThat(refused(text))
        .contains(
            "NOT_A_NUMBER bench.csv, line 6, column output [counts]: \"1.215\" is not a number"
                + " here: other numbers of this file have a decimal comma; if its mark stands"
                + " between thousands, say --grouping point",
            "NOT_A_NUMBER bench.csv, line 2, column noise [counts]: \"12.5\" is not a number here:"
                + " other numbers of this file have a decimal comma; if the bench typed both, say"
                + " --decimal mixed");
    assertThat(refused(RUN.replace(",", ";").replace("121.5;", "1,215;")))
        .containsExactly(
            "NOT_A_NUMBER bench.csv, line 6, column output [counts]: \"1,215\" is not a number"
                + " here: other numbers of this file have a decimal point; if its mark stands"
                + " between thousands, say --grouping comma");
  }

  @Test
  void theSameFileIsRecognised() {
    take(RUN);
    Result<Appended> again = take("copy.csv", RUN, StandardCharsets.UTF_8);

    assertThat(again).matches(it -> it.get().wasThere());
    assertThat(again.get().readings()).isEqualTo(5);
    assertThat(sentences(again.issues()))
        .containsExactly(
            "ALREADY_IMPORTED copy.csv: the same file was imported before as bench.csv (5"
                + " readings); nothing was changed");
    Preview preview = Imports.preview(folder, root.resolve("copy.csv"), Imports.TEXT_ONLY);
    assertThat(preview.outcome()).isEqualTo(again);
  }

  @Test
  void previewSaysWhatTheImportWillSay() {
    Path good = file("bench.csv", RUN, StandardCharsets.UTF_8);
    Path bad = file("bad.csv", RUN.replace("CA-001", "CA-01"), StandardCharsets.UTF_8);
    for (Path path : List.of(bad, good)) {
      Preview preview = Imports.preview(folder, path, Imports.TEXT_ONLY);
      assertThat(Imports.importFile(folder, path, Imports.TEXT_ONLY)).isEqualTo(preview.outcome());
    }
  }

  /** One case a kind of trouble: a change to a sound file and every issue that follows. */
  @ParameterizedTest(name = "{2}")
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          cell,board,|board,|COLUMN_MISSING bench.csv, line 1, column cell: there is no column "cell"; every reading needs it: say which it is with --column "HEADER=cell", or one value for all with --value "cell=..."
          session,time|sesion,time|COLUMN_UNKNOWN bench.csv, line 1, column sesion: "sesion" is no column of readings; if it is session, say --column "sesion=session"; to leave it out, say --column "sesion=ignore"
          session,time|,time|COLUMN_UNKNOWN bench.csv, line 2, column column 1: there is a value in a column that has no name
          session,time|weather,time|COLUMN_UNKNOWN bench.csv, line 1, column weather: "weather" is no column of readings; to leave it out, say --column "weather=ignore" (the columns are: session, time, run, step, cell, board, load [kg], output [counts], noise [counts], cell temperature [°C], board temperature [°C], remark)
          noise [counts]|load [g]|COLUMN_REPEATED bench.csv, line 1, column load [g]: column 9 means load, as column 7 does ("load [kg]"); keep one
          load [kg]|load [t]|UNIT_OF_MEASURE_UNKNOWN bench.csv, line 1, column load [t]: "t" is no unit of mass; say --column "load [t]=load [kg]", with kg, g, lb, oz or N in the brackets
          load [kg]|load|UNIT_OF_MEASURE_UNKNOWN bench.csv, line 1, column load: the column has no unit; say --column "load=load [kg]", with kg, g, lb, oz or N in the brackets
          output [counts]|output [mV]|UNIT_OF_MEASURE_UNKNOWN bench.csv, line 1, column output [mV]: "mV" is no unit of converter output; say --column "output [mV]=output [counts]", with counts or mV/V in the brackets
          4295062|42950b2|NOT_A_NUMBER bench.csv, line 4, column output [counts]: "42950b2" is not a number; write digits, such as 1234.5
          4295062|"4,295,062"|NOT_A_NUMBER bench.csv, line 4, column output [counts]: "4,295,062" is not a number; if its mark stands between thousands, say --grouping comma
          4295062|"4295,1"|NOT_A_NUMBER bench.csv, line 4, column output [counts]: "4295,1" is not a number here: other numbers of this file have a decimal point; if the bench typed both, say --decimal mixed
          4295062|NaN|NOT_A_NUMBER bench.csv, line 4, column output [counts]: "NaN" is not a number; write digits, such as 1234.5
          4295062||VALUE_MISSING bench.csv, line 4, column output [counts]: the value is missing; every reading needs it
          R1,3,CA|,3,CA|VALUE_MISSING bench.csv, line 4, column run: the value is missing; every reading needs it; if it is that of the row above, say --blanks as-above
          121.5,12.5,21.5,23|121|VALUE_MISSING bench.csv, line 6: the line has 8 of 11 fields; is it cut short? If it is a note, say --skip-rows 6
          BA-001,50|BA-001,-50|OUT_OF_RANGE bench.csv, line 4, column load [kg]: -50 kg is impossible: a load is 0 or above, and at most 1e9 kg
          4295062,12.5,21.5|4295062,12.5,215|OUT_OF_RANGE bench.csv, line 4, column cell temperature [°C]: 215 °C is impossible: a bench is between -60 °C and 120 °C
          4295062,12.5|4295062,-12.5|OUT_OF_RANGE bench.csv, line 4, column noise [counts]: -12.5 counts is impossible: noise is 0 or above, and at most 1e15 counts
          R1,3,CA|R1,3.5,CA|OUT_OF_RANGE bench.csv, line 4, column step: 3.5 is no step; steps are whole numbers, counted from 1
          R1,3,CA|R1,0,CA|OUT_OF_RANGE bench.csv, line 4, column step: 0 is no step; steps are whole numbers, counted from 1
          2026-03-04T09:32|4 March|VALUE_INVALID bench.csv, line 4, column time: "4 March" is not a local time; write it as 2026-03-04T09:30
          2026-03-04T09:32|2026-03-04T09:32Z|VALUE_INVALID bench.csv, line 4, column time: "2026-03-04T09:32Z" is not a local time; write it as 2026-03-04T09:30
          R1,3,CA|R1,2,CA|DUPLICATE_READING bench.csv, line 4, column step: run R1, step 2 stands already in bench.csv, line 3; a repeat of the pair needs a run name of its own
          3,CA-001|3,CA-0O1|UNKNOWN_SERIAL bench.csv, line 4, column cell, unit CA-0O1: "CA-0O1" is no cell of the study; did you mean "CA-001"?
          3,CA-001,BA-001|3,CA-001,CA-001|UNKNOWN_SERIAL bench.csv, line 4, column board, unit CA-001: "CA-001" is a cell of the study, not a board
          3,CA-001|3,ZX9|UNKNOWN_SERIAL bench.csv, line 4, column cell, unit ZX9: "ZX9" is no cell of the study; study.yaml lists the cells of each lot
          3,CA-001|3,CA-002|RUN_INCONSISTENT bench.csv, line 4, column cell: run R1 has cell CA-001 in bench.csv, line 2 and cell CA-002 here; a run is one pair
          3,CA-001,BA-001|3,CA-001,BA-002|RUN_INCONSISTENT bench.csv, line 4, column board: run R1 has board BA-001 in bench.csv, line 2 and board BA-002 here; a run is one pair
          S1,2026-03-04T09:32|"S1,2026-03-04T09:32|FILE_UNREADABLE bench.csv, line 4: a quotation mark is opened and never closed
          ,23\\nS1,2026-03-04T09:31|,23,late\\nS1,2026-03-04T09:31|COLUMN_UNKNOWN bench.csv, line 2, column column 12: there is a value in a column that has no name
          R1,5,CA-001,BA-001,0,121.5,12.5,21.5,23|R1,5,CA-001,BA-001,0,121.5,12.5,21.5,23\\nS1,2026-03-04T09:35,R1,6,CA-001,BA-001,0,121.5,12.5,21.5,23|LOAD_NOT_PLANNED bench.csv, line 7, column load [kg], unit CA-001: run R1 has 0 kg at step 6, and only 5 steps are planned. The planned loads are 0, 20, 50, 20, 0 kg, each to within 0.1 % or the limit of its mass class; a run with other loads enters no figure. Correct the load or its unit, or the loads in study.yaml (if it is right, --accept LOAD_NOT_PLANNED)
          BA-001,50|BA-001,30|LOAD_NOT_PLANNED bench.csv, line 4, column load [kg], unit CA-001: run R1 has 30 kg at step 3, and step 3 is planned with 50 kg. The planned loads are 0, 20, 50, 20, 0 kg, each to within 0.1 % or the limit of its mass class; a run with other loads enters no figure. Correct the load or its unit, or the loads in study.yaml (if it is right, --accept LOAD_NOT_PLANNED)
          BA-001,50|BA-001,50.5|OUT_OF_RANGE bench.csv, line 4, column load [kg]: a load of 50.5 kg is above the capacity of 50 kg
          """)
  void namesTheTroubleItsPlaceAndWhatWouldBeRight(String what, String by, String said) {
    String from = what.replace("\\n", "\n");
    assertThat(RUN).contains(from);
    int at = RUN.indexOf(from);
    String to = by == null ? "" : by.replace("\\n", "\n");

    assertThat(refused(RUN.substring(0, at) + to + RUN.substring(at + from.length())))
        .contains(said);
  }

  /** What is kept and shown. */
  @ParameterizedTest(name = "{2}")
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          S1,2026-03-04T09:32,R1,3,CA-001,BA-001,50,4295062,12.5,21.5,23\\n|~~|RUN_INCOMPLETE bench.csv, line 2, column step: run R1 lacks step 3 of 5; it enters no figure before it has all
          S1,2026-03-04T09:32|S2,2026-03-04T09:32|RUN_INCONSISTENT bench.csv, line 4, column session: run R1 has session "S1" in bench.csv, line 2 and session "S2" here; a run lies in one session
          2026-03-04T09:33|2026-03-04T09:31|RUN_INCONSISTENT bench.csv, line 5, column time: run R1, step 4 is earlier than its step 3
          """)
  void warnsOfWhatAPersonShouldKnow(String what, String by, String said) {
    String from = what.replace("\\n", "\n");
    assertThat(RUN).contains(from);
    assertThat(warned(RUN.replace(from, by))).contains(said);
  }

  @Test
  void findsAllTroubleInOneGoInFileOrder() {
    String text =
        RUN.replace("R1,2,CA-001", "R1,two,CA-001")
            .replace("BA-001,50", "BA-01,50")
            .replace("121.5", "");

    assertThat(refused(text))
        .containsExactly(
            "NOT_A_NUMBER bench.csv, line 3, column step: \"two\" is not a number; write digits,"
                + " such as 1234.5",
            "UNKNOWN_SERIAL bench.csv, line 4, column board, unit BA-01: \"BA-01\" is no board of"
                + " the study; did you mean \"BA-001\"?",
            "RUN_INCONSISTENT bench.csv, line 4, column board: run R1 has board BA-001 in"
                + " bench.csv, line 2 and board BA-01 here; a run is one pair",
            "VALUE_MISSING bench.csv, line 6, column output [counts]: the value is missing; every"
                + " reading needs it");
  }

  @Test
  void theCheckStandardIsKnown() {
    assertThat(warned(RUN.replace("CA-001,BA-001", "C-CHK,B-CHK"))).isEmpty();
  }

  @Test
  void aRunMayGoOnInAnotherFile() {
    int third = RUN.indexOf("S1,2026-03-04T09:32");
    assertThat(warned(RUN.substring(0, third)))
        .containsExactly(
            "RUN_INCOMPLETE bench.csv, line 2, column step: run R1 lacks steps 3, 4, 5 of 5;"
                + " it enters no figure before it has all");
    assertThat(warned(HEADER + RUN.substring(third))).isEmpty();
    assertThat(opened(folder).warnings()).isEmpty();
  }

  @Test
  void spacesAroundValuesMeanNothing() {
    assertThat(warned(RUN.replace("CA-001", " CA-001\u00A0").replace("50,", "50 ,"))).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          %PDF-1.7|it is a PDF document; give a CSV, JSON, .xlsx or .xls file
          PK\\x03\\x04|it is a zip archive that is no .xlsx workbook (save an .ods sheet as .xlsx); give a CSV, JSON, .xlsx or .xls file
          \\x89PNG|it is a PNG picture; give a CSV, JSON, .xlsx or .xls file
          \\xD0\\xCF\\x11\\xE0\\xA1\\xB1\\x1A\\xE1|it is an old .xls workbook or a workbook with a password; give a CSV, JSON, .xlsx or .xls file
          run\\x00step|it is a binary file; give a CSV, JSON, .xlsx or .xls file
          """)
  void filesOfOtherKindsAreNamed(String bytes, String said) {
    StringBuilder raw = new StringBuilder();
    for (int i = 0; i < bytes.length(); i++) {
      if (bytes.startsWith("\\x", i)) {
        raw.append((char) Integer.parseInt(bytes.substring(i + 2, i + 4), 16));
        i += 3;
      } else {
        raw.append(bytes.charAt(i));
      }
    }
    assertThat(refused(take("scan.csv", raw.toString(), StandardCharsets.ISO_8859_1)))
        .containsExactly("FILE_TYPE scan.csv: not a table of readings: " + said);
  }

  @Test
  void emptyAndMissingFilesSaySo() {
    assertThat(refused("")).containsExactly("FILE_EMPTY bench.csv: the file is empty");
    assertThat(refused(" \n\n")).containsExactly("FILE_EMPTY bench.csv: the file is empty");
    assertThat(refused(HEADER))
        .containsExactly("FILE_EMPTY bench.csv, line 1: there is no row below the header");
    Path none = root.resolve("none.csv");
    assertThat(refused(Imports.importFile(folder, none, Imports.TEXT_ONLY)))
        .containsExactly("FILE_MISSING none.csv: there is no such file: " + none);
    assertThat(refused(Imports.importFile(folder, root, Imports.TEXT_ONLY)))
        .containsExactly(
            "FILE_TYPE " + root.getFileName() + ": this is a folder; give the files in it");
  }

  @ParameterizedTest
  @ValueSource(strings = {"windows-1252", "UTF-16", "UTF-16LE", "UTF-16BE"})
  void theUsualCodePagesAreRead(String charset) {
    Result<Appended> outcome = take("bench.csv", RUN, Charset.forName(charset));
    assertThat(outcome).matches(Imports::isNew);
    assertThat(outcome.issues()).isEmpty();
  }

  @Test
  void bytesOfNoKnownCodePageAreRefusedWithTheirLine() {
    String text = RUN.replace("R1,3,CA", "R\u0081,3,CA");
    assertThat(refused(take("bench.csv", text, StandardCharsets.ISO_8859_1)))
        .containsExactly(
            "FILE_UNREADABLE bench.csv, line 1: the text is neither UTF-8 nor windows-1252; save"
                + " the file as CSV in UTF-8, or name its code page with --encoding");
  }

  @Test
  void aSeparatorThatIsNotCertainIsNotGuessed() {
    assertThat(refused("no;names,here\nx"))
        .containsExactly(
            "COLUMN_MISSING bench.csv, line 1: no row names the columns of readings; a header such"
                + " as run, step, cell, board, load [kg], output [counts] is needed (layouts:"
                + " docs/formats.md), or say which columns are these, such as --column"
                + " \"NAME=cell\"");
    assertThat(refused("run step cell\n"))
        .containsExactly(
            "FILE_TYPE bench.csv, line 1: there is neither comma nor semicolon nor tab nor bar,"
                + " and no line of words names columns of readings; is it the log of a terminal?"
                + " Say --captures for one with marks of runs and loads, or --run, --step, --cell,"
                + " --board and --load for one reading");
  }

  @Test
  void aFolderThatIsDamagedTakesNothing() throws IOException {
    Files.writeString(folder.root().resolve("readings.csv"), "x\n");

    Result<Appended> outcome = take(RUN);

    assertThat(outcome.issues())
        .extracting(DataIssue::code)
        .containsExactly(DataIssue.Code.RECORD_DAMAGED);
  }

  @Test
  void theLanguageOfTheMachineDoesNotMatter() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
      assertThat(warned(RUN)).isEmpty();
      assertThat(opened(folder).readings().get(0).outputCounts()).isEqualTo(120.5);
    } finally {
      Locale.setDefault(before);
    }
  }
}
