package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.Reader;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What a person or a broken program may hand in, of a size at which a reader whose time grows with
 * the square of it takes minutes: a table, a manifest, a capture, a workbook, the files of a study
 * folder, answers, and what is no file at all. Each is answered in time, and none is the program's
 * fault.
 */
class NothingHangsTest {
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final String TABLE =
      "session,run,step,cell,board,load [kg],output [counts],remark\n";
  private static final String ROW = "S1,R1,1,CA-001,BA-001,0,120.5,";
  private static final String NOISE = "x1 \"a, b; c\" 'd' # (e] {f: g} 12,5 ";

  @TempDir private Path temp;

  /** Where a text goes in. */
  private enum Door {
    IMPORT,
    MANIFEST,
    CAPTURE,
    SPREAD,
    PILOT,
    WATCH,
    CHECK,
    DEFINITION,
    RECORD,
    DECISIONS,
    MAPPING
  }

  private Object[] words(Door door, Path file) throws IOException {
    List<Object> words =
        switch (door) {
          case IMPORT -> List.of("import", study(), file);
          case MANIFEST -> List.of("import", study(), "--captures", file);
          case CAPTURE -> List.of("noise", file);
          case SPREAD -> List.of("spread", file, "--value", "output [counts]");
          case PILOT ->
              List.of("rehearse", study(), "--pilot", file, "--pilot-value", "output [counts]");
          case WATCH -> List.of("watch", Demo.FOLDER, file, "--lot", "L9", "--date", "2026-11-02");
          case CHECK -> List.of("claim", Demo.FOLDER, "--check", file);
          case DEFINITION -> List.of("status", with(file, "study.yaml"));
          case RECORD -> List.of("review", with(file, "readings.csv"));
          case DECISIONS -> List.of("review", with(file, "decisions.csv"));
          case MAPPING -> List.of("import", with(file, "mappings/m.yaml"), file, "--mapping", "m");
        };
    return words.toArray();
  }

  private Path study() {
    return BenchFile.emptyStudy(temp.resolve("study")).root();
  }

  /** The study with this file in the place of one of its own. */
  private Path with(Path file, String name) throws IOException {
    Path to = study().resolve(name);
    Files.createDirectories(Objects.requireNonNull(to.getParent()));
    Files.copy(file, to, StandardCopyOption.REPLACE_EXISTING);
    return temp.resolve("study");
  }

  private static String record(String remark) {
    String head =
        "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
            + "cell temperature [°C],board temperature [°C],remark,source file,source sheet,"
            + "source hash,source row\n";
    return head
        + "S1,,R1,1,CA-001,BA-001,0,120.5,,,,"
        + remark
        + ",a.csv,,"
        + "0".repeat(64)
        + ",2\n";
  }

  private static String runs(int count) {
    StringBuilder rows = new StringBuilder(TABLE);
    for (int i = 0; i < count; i++) {
      rows.append(ROW.replace("R1", "R" + i).replace("CA-001", "00" + i)).append('\n');
    }
    return rows.toString();
  }

  private static String quotes() {
    return TABLE + ROW + "5\" wide\n" + (ROW + "\n").repeat(70_000) + ROW + "\"\n" + ROW;
  }

  private static List<Arguments> doors() {
    String longLine = "a ".repeat(4_000_000);
    String digits = "7".repeat(5_000_000);
    String noise = (NOISE + "\n").repeat(100_000);
    String list =
        IntStream.range(0, 80_000).mapToObj(i -> "C" + i).collect(Collectors.joining(", "));
    String decisions = "decision,time,who,action,target,serial,field,value,cause,evidence\n";
    return List.of(
        arguments(Door.IMPORT, "a line of 8 MB", TABLE + longLine),
        arguments(Door.IMPORT, "four million fields", TABLE + "1,".repeat(4_000_000)),
        arguments(Door.IMPORT, "a header of 1 MB", "load 5 kg up ".repeat(80_000) + "," + TABLE),
        arguments(Door.IMPORT, "a number of 5 MB", TABLE + ROW.replace("120.5", digits) + "\n"),
        arguments(Door.IMPORT, "a note of 5 MB", TABLE + ROW + "a b; ".repeat(1_000_000) + "\n"),
        arguments(Door.IMPORT, "blanks", TABLE + ROW + "a" + " ".repeat(1_000_000) + "b\n"),
        arguments(Door.IMPORT, "two stray quotation marks", quotes()),
        arguments(Door.IMPORT, "lines of noise", TABLE + noise),
        arguments(Door.IMPORT, "40,000 runs", runs(40_000)),
        arguments(Door.IMPORT, "braces", "{\"a\":".repeat(200_000)),
        arguments(Door.IMPORT, "a field of JSON", "{\"run\":\"" + longLine + "\"}\n"),
        arguments(Door.MANIFEST, "rows", "file," + runs(40_000).replace("S1,", "c.log,S1,")),
        arguments(Door.MANIFEST, "lines of noise", "file," + TABLE + noise),
        arguments(Door.CAPTURE, "a line of 8 MB", "12\n13\n" + longLine),
        arguments(Door.CAPTURE, "a sample of 5 MB", "12\n" + digits + "\n12." + digits + "\n"),
        arguments(Door.CAPTURE, "lines of noise", "12\n".repeat(100) + noise),
        arguments(Door.SPREAD, "a line of 8 MB", TABLE + longLine),
        arguments(Door.SPREAD, "a number of 5 MB", TABLE + ROW.replace("120.5", digits) + "\n"),
        arguments(Door.SPREAD, "two stray quotation marks", quotes()),
        arguments(Door.SPREAD, "40,000 units", runs(40_000)),
        arguments(Door.PILOT, "a number of 5 MB", TABLE + ROW.replace("120.5", digits) + "\n"),
        arguments(Door.WATCH, "a number of 5 MB", TABLE + ROW.replace("120.5", digits) + "\n"),
        arguments(Door.CHECK, "a draft of 5 MB", "within 50 g of 95 % of kits ".repeat(180_000)),
        arguments(Door.DEFINITION, "a scalar of 60 MB", "title: " + longLine.repeat(8) + "\n"),
        arguments(Door.DEFINITION, "nested lists", "a: " + "[".repeat(400_000)),
        arguments(Door.DEFINITION, "marks", "a: &a [x]\n" + "b: *a\n".repeat(100_000)),
        arguments(Door.DEFINITION, "a list", "lots: {cells: [{lot: A, units: [" + list + "]}]}\n"),
        arguments(Door.RECORD, "a note of 5 MB", record("capture ".repeat(600_000))),
        arguments(Door.RECORD, "a line of 8 MB", record(longLine) + longLine),
        arguments(Door.DECISIONS, "a line of 8 MB", decisions + longLine),
        arguments(
            Door.DECISIONS,
            "a note of 5 MB",
            decisions
                + "D1,2026-03-04T09:30,A,excluded,cell,CA-001,,,bench damage,"
                + "seen ".repeat(1_000_000)
                + "\n"),
        arguments(Door.MAPPING, "a scalar of 60 MB", "format: " + longLine.repeat(8)),
        arguments(Door.MAPPING, "nested lists", "columns: " + "[".repeat(400_000)));
  }

  @ParameterizedTest(name = "{0}: {1}")
  @MethodSource("doors")
  void aTextIsAnsweredInTime(Door door, String what, String text) throws IOException {
    Path file = Files.writeString(temp.resolve("given.csv"), text);
    answers(words(door, file));
  }

  private static Ran answers(Object... words) {
    Ran ran = assertTimeoutPreemptively(PATIENCE, () -> Ran.lotproof(words));
    assertThat(ran.exit()).as(ran.err()).isBetween(Exit.DONE, Exit.UNUSABLE);
    assertThat(ran.out().length() + ran.err().length()).as("what is said").isLessThan(200_000);
    return ran;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "[Content_Types].xml"})
  void aWorkbookThatUnpacksToFarMoreIsAnsweredInTime(String part) throws IOException {
    Path file = temp.resolve("bomb.xlsx");
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(file))) {
      zip.putNextEntry(new ZipEntry(part));
      byte[] blank = " ".repeat(1 << 20).getBytes(java.nio.charset.StandardCharsets.UTF_8);
      for (int i = 0; i < 300; i++) {
        zip.write(blank);
      }
    }
    assertThat(answers("import", study(), file).exit()).isEqualTo(Exit.UNUSABLE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"/dev/zero", "pipe"})
  void whatIsNoFileIsNotReadAtAll(String name) throws IOException, InterruptedException {
    Path path = temp.resolve(name);
    if (name.equals("pipe")) {
      new ProcessBuilder("mkfifo", path.toString()).start().waitFor();
    }
    Assumptions.assumeTrue(Files.exists(path), "this system has none");
    for (Door door :
        List.of(Door.IMPORT, Door.MANIFEST, Door.CAPTURE, Door.SPREAD, Door.PILOT, Door.WATCH)) {
      assertThat(answers(words(door, path)).exit()).isEqualTo(Exit.UNUSABLE);
    }
  }

  /** Says the same for ever. */
  private static final class Endless extends Reader {
    private final String text;
    private int at;

    private Endless(String text) {
      this.text = text;
    }

    @Override
    public int read(char[] buffer, int from, int length) {
      for (int i = from; i < from + length; i++) {
        buffer[i] = text.charAt(at++ % text.length());
        at %= text.length();
      }
      return length;
    }

    @Override
    public void close() {}
  }

  @ParameterizedTest
  @CsvSource({"enter,a", "enter,'\n'", "enter,'abc\n'", "plan,a", "plan,'\n'", "plan,'abc\n'"})
  void answersWithoutEndAreBrokenOff(String command, String text) {
    Path planned = temp.resolve("planned");
    EntryStudy.plan(planned, 4);
    String[] words =
        command.equals("enter")
            ? new String[] {"enter", planned.toString(), "--who", "Ann"}
            : new String[] {"plan", "--ask"};
    StringWriter said = new StringWriter();
    PrintWriter to = new PrintWriter(said);
    BufferedReader in = new BufferedReader(new Endless(text));
    int exit =
        assertTimeoutPreemptively(
            PATIENCE, () -> Main.run(new CliContext(to, to, in, false), words));
    assertThat(exit).as(Arrays.toString(words)).isEqualTo(Exit.UNUSABLE);
  }
}
