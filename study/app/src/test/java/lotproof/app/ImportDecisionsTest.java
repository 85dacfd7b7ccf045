package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.Result;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Corrected files, saved mappings, questions at a terminal, and files that mean harm. */
class ImportDecisionsTest {
  private static final String RUN =
      """
      session,run,step,cell,board,load [kg],output [counts]
      S1,R1,1,CA-001,BA-001,0,120.5
      S1,R1,2,CA-001,BA-001,20,1718085
      S1,R1,3,CA-001,BA-001,50,4295062.5
      S1,R1,4,CA-001,BA-001,20,1718090
      S1,R1,5,CA-001,BA-001,0,121.5
      """;
  private static final String SECOND =
      RUN.substring(RUN.indexOf('\n') + 1).replace("R1", "R2").replace("1718", "1719");

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void anEmptyStudy() {
    study = temp.resolve("study");
    BenchFile.emptyStudy(study);
  }

  private Path file(String name, String content) throws IOException {
    return Files.writeString(temp.resolve(name), content);
  }

  private String text(String name) throws IOException {
    Path path = study.resolve(name);
    return Files.exists(path) ? Files.readString(path) : "";
  }

  /** Runs an import at a terminal where a person types these lines. */
  private static Ran typed(String answers, Object... arguments) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    BufferedReader in = new BufferedReader(new StringReader(answers));
    CliContext io = new CliContext(new PrintWriter(out), new PrintWriter(err), in, true);
    String[] words = Arrays.stream(arguments).map(String::valueOf).toArray(String[]::new);
    int exit = Main.run(io, words);
    return new Ran(exit, out.toString(), err.toString());
  }

  @Test
  void oldRowsAreRecognisedAndNewOnesTaken() throws IOException {
    Ran.lotproof("import", study, file("a.csv", RUN));
    Ran ran = Ran.lotproof("import", study, file("b.csv", RUN + SECOND));
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.words()).contains("5 of them were in the record already");
    assertThat(text("readings.csv").lines()).hasSize(11);
  }

  @Test
  void aCorrectedFileIsShownRowByRowAndKeptOutUntilDecided() throws IOException {
    Ran.lotproof("import", study, file("a.csv", RUN));
    String before = text("readings.csv");
    Path corrected = file("b.csv", RUN.replace("1718090", "1718290"));
    Ran ran = Ran.lotproof("import", study, corrected);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.out()).contains("output [counts]: 1718090 becomes 1718290");
    assertThat(ran.err()).contains("--supersede or --keep-first");
    assertThat(text("readings.csv")).isEqualTo(before);
  }

  @Test
  void thePersonSaysWhichValuesCountAndBothAreKept() throws IOException {
    Ran.lotproof("import", study, file("a.csv", RUN));
    Path corrected = file("b.csv", RUN.replace("1718090", "1718290"));
    Ran undecided = Ran.lotproof("import", study, corrected, "--supersede");
    assertThat(undecided.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(undecided.err()).contains("--who, --why and --when");

    Ran ran =
        Ran.lotproof(
            "import",
            study,
            corrected,
            "--supersede",
            "--when",
            "2026-03-05T16:10",
            "--who",
            "Mara Lind",
            "--why",
            "misread");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(text("readings.csv")).contains("1718090").contains("1718290");
    assertThat(text("decisions.csv"))
        .contains("Mara Lind,corrected,run,R1,source,")
        .contains("misread");
    assertThat(effective()).contains(1718290.0).doesNotContain(1718090.0);

    Ran third =
        Ran.lotproof(
            "import",
            study,
            file("c.csv", RUN.replace("1718090", "1718390")),
            "--keep-first",
            "--when",
            "2026-03-05T16:10",
            "--who",
            "Mara Lind",
            "--why",
            "c is a slip");
    assertThat(third.err()).doesNotContain("error");
    assertThat(effective()).contains(1718290.0).doesNotContain(1718390.0);
    assertThat(text("readings.csv")).contains("1718390");
    assertThat(Ran.lotproof("status", study).exit()).isEqualTo(Exit.DONE);
  }

  private java.util.List<Double> effective() {
    return CliCommand.open(study).readings().stream().map(r -> r.outputCounts()).toList();
  }

  @Test
  void anImportThatStoppedBeforeItsDecisionIsWholeAndCanBeFinished() throws IOException {
    Ran.lotproof("import", study, file("a.csv", RUN));
    Path corrected = file("b.csv", RUN.replace("1718090", "1718290"));
    Object[] again = {
      "import",
      study,
      corrected,
      "--supersede",
      "--when",
      "2026-03-05T16:10",
      "--who",
      "Mara Lind",
      "--why",
      "misread"
    };
    Ran.lotproof(again);
    Files.delete(study.resolve("decisions.csv"));
    Ran status = Ran.lotproof("status", study);
    assertThat(status.exit()).isEqualTo(Exit.DONE);
    assertThat(status.err()).contains("nobody has decided which file is right");
    assertThat(effective()).contains(1718090.0);
    assertThat(Ran.lotproof(again).exit()).isEqualTo(Exit.DONE);
    assertThat(effective()).contains(1718290.0);
  }

  @Test
  void whatLooksWrongCanBeAcceptedByAPerson() throws IOException {
    Path turned = file("a.csv", RUN.replaceAll("(\\d[\\d.]*)\n", "-$1\n"));
    assertThat(Ran.lotproof("import", study, turned).exit()).isEqualTo(Exit.UNUSABLE);
    Ran ran = Ran.lotproof("import", study, turned, "--accept", "SLOPE_DOUBTFUL");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.err()).contains("accepted:");
  }

  @Test
  void aMappingIsSavedAndUsedAgain() throws IOException {
    String other = RUN.replace("cell", "serial").replace("load [kg]", "load");
    Ran first =
        Ran.lotproof(
            "import",
            study,
            file("a.csv", other),
            "--column",
            "serial=cell",
            "--column",
            "load=load [kg]",
            "--save-mapping",
            "logger");
    assertThat(first.exit()).isEqualTo(Exit.DONE);
    assertThat(text("mappings/logger.yaml")).contains("serial: \"cell\"");
    Path next = file("b.csv", other.replace("R1", "R2").replace("1718", "1719"));
    assertThat(Ran.lotproof("import", study, next, "--yes").exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(Ran.lotproof("import", study, next, "--mapping", "logger", "--yes").exit())
        .isEqualTo(Exit.DONE);
  }

  @Test
  void aMappingIsReadBackAsItWasWritten() {
    Mapping mapping =
        Mapping.none()
            .with(Setting.DECIMAL, "comma")
            .withColumn("T: \"x\"", "cell temperature [°F]")
            .withColumn("12", "ignore")
            .withValue(lotproof.folder.text.ReadingColumn.SESSION, "0012");
    byte[] text = MappingFile.write(mapping).getBytes(StandardCharsets.UTF_8);
    assertThat(MappingFile.read("m.yaml", text)).isEqualTo(Result.of(mapping));
    String wrong = "format: lotproof-mapping-1\nfile: {decimal: dot}\ncolumn: {a: b}\n";
    assertThat(MappingFile.read("m.yaml", wrong.getBytes(StandardCharsets.UTF_8)).value())
        .isEmpty();
  }

  @Test
  void aMappingCannotLeaveItsFolder() throws IOException {
    Path file = file("a.csv", RUN);
    for (String name : new String[] {"../../study", "/etc/x", "a b", "..", "con\u0007"}) {
      Ran ran = Ran.lotproof("import", study, file, "--save-mapping", name);
      assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    }
    assertThat(text("readings.csv")).isEmpty();
  }

  @Test
  void whatIsOpenIsAskedAtATerminal() throws IOException {
    Path file = file("a.csv", RUN.replace("cell", "serial"));
    Ran ran = typed("1\ny\n", "import", study, file);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("Does \"serial\" mean cell or board?").contains("imported");
    assertThat(text("readings.csv").lines()).hasSize(6);
  }

  @Test
  void aQuestionTakesWhatTheOptionTakes() throws IOException {
    Path file = file("a.csv", RUN.replace("load [kg]", "Gewicht"));
    Ran ran = typed("stones\nload [kg]\ny\n", "import", study, file);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.words()).contains("What is it?").contains("\"stones\" is no column");
    assertThat(text("readings.csv").lines()).hasSize(6);
  }

  @Test
  void whenIsTakenAsPeopleTypeIt() throws IOException {
    Ran.lotproof("import", study, file("a.csv", RUN));
    Path other = file("b.csv", RUN.replace("120.5", "120.75"));
    Object[] decide = {"import", study, other, "--supersede", "--who", "Jo", "--why", "typo"};
    Ran two = Ran.lotproof(with(decide, "--when", "03/04/2026"));
    assertThat(two.err()).contains("two ways; write 2026-04-03 or 2026-03-04");
    Ran none = Ran.lotproof(with(decide, "--when", "soon"));
    assertThat(none.err()).contains("--when: \"soon\" is no date").doesNotContain("java");
    Ran day = Ran.lotproof(with(decide, "--when", "5.3.2026"));
    assertThat(day.exit()).isEqualTo(Exit.DONE);
    assertThat(text("decisions.csv")).contains(",2026-03-05,Jo,");
  }

  private static Object[] with(Object[] arguments, Object... more) {
    return Stream.concat(Arrays.stream(arguments), Arrays.stream(more)).toArray();
  }

  @Test
  void noAnswerIsNeverTakenForOne() throws IOException {
    Path file = file("a.csv", RUN.replace("cell", "serial"));
    for (String answers : new String[] {"", "0\n", "9\nx\n", "1\n", "1\nn\n"}) {
      assertThat(typed(answers, "import", study, file).exit()).isEqualTo(Exit.UNUSABLE);
      assertThat(text("readings.csv")).isEmpty();
    }
  }

  @Test
  @Tag("slow")
  void aLineOfHundredMegabytesIsRefused() throws IOException {
    byte[] line = new byte[100 << 20];
    Arrays.fill(line, (byte) '7');
    byte[] head = RUN.getBytes(StandardCharsets.UTF_8);
    System.arraycopy(head, 0, line, 0, head.length);
    Ran ran = Ran.lotproof("import", study, Files.write(temp.resolve("a.csv"), line));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("a.csv, line 7");
    assertThat(text("readings.csv")).isEmpty();
  }
}
