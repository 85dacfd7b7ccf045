package lotproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CommandLineTest {
  private static final String[] COMMANDS = {
    "import", "status", "review", "spread", "claim", "report", "limits", "watch"
  };

  @TempDir private Path temp;

  @ParameterizedTest
  @ValueSource(
      strings = {
        "plan",
        "rehearse",
        "import",
        "status",
        "review",
        "spread",
        "claim",
        "report",
        "limits",
        "watch"
      })
  void helpOfEveryCommandShowsExamples(String command) {
    Ran ran = Ran.lotproof(command, "--help");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("Usage: lotproof " + command + " [OPTIONS]")
        .contains("Examples:\n  lotproof " + command)
        .contains("--json")
        .contains("--color");
    assertThat(ran.err()).isEmpty();
    String first = ran.out().split("\nOptions:\n", 2)[1].split("\n\n", 2)[0];
    assertThat(first.lines().filter(line -> line.startsWith("      --")).count())
        .as("options before those that stand below a heading")
        .isBetween(1L, 15L);
  }

  @Test
  void helpListsTheCommandsAndExitCodes() {
    Ran ran = Ran.lotproof("--help");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains(COMMANDS).contains("the answer is no");
  }

  @Test
  void versionIsOneLine() {
    Ran ran = Ran.lotproof("--version");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).matches("lotproof \\S+\\R");
  }

  @Test
  void noCommandIsAnErrorOfUse() {
    Ran ran = Ran.lotproof();
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("lotproof --help");
  }

  @Test
  void anUnknownCommandNamesTheNearest() {
    Ran ran = Ran.lotproof("clam", "x");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("clam").contains("claim").contains("--help");
    assertThat(ran.out()).isEmpty();
  }

  @Test
  void anUnknownOptionNamesTheNearest() {
    Ran ran = Ran.lotproof("status", Demo.FOLDER, "--jsn");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--jsn").contains("--json");
  }

  @Test
  void aMissingFolderIsUnusable() {
    Ran ran = Ran.lotproof("status", temp.resolve("nowhere"));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("nowhere").doesNotContain("\tat ");
  }

  @Test
  void aFolderWithoutStudyFileIsUnusable() {
    Ran ran = Ran.lotproof("claim", temp);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("study.yaml").doesNotContain("\tat ");
  }

  @ParameterizedTest
  @ValueSource(strings = {"review", "spread", "claim", "report", "limits"})
  void anEmptyStudyIsUnusableForWhatNeedsReadings(String command) {
    Ran ran = Ran.lotproof(command, Demo.emptyInto(temp));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("no reading").contains("import");
    assertThat(ran.out()).isEmpty();
  }

  @Test
  void anUnknownKeyNamesTheNearestWithItsPlace() throws IOException {
    Path study = Demo.emptyInto(temp);
    Path file = study.resolve("study.yaml");
    Files.writeString(file, Files.readString(file).replace("question:", "qestion:"));
    Ran ran = Ran.lotproof("status", study);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("error: study.yaml, line 3").contains("question");
  }

  @Test
  void colourIsOffInAPipeAndOnWhenAskedFor() {
    assertThat(Ran.lotproof("status", Demo.FOLDER).out()).doesNotContain("\u001B");
    assertThat(Ran.lotproof("status", Demo.FOLDER, "--color=never").out()).doesNotContain("\u001B");
    assertThat(Ran.lotproof("status", Demo.FOLDER, "--color=always").out()).contains("\u001B[1m");
  }

  @Test
  void aFaultIsOneLineWithoutStackTrace() {
    StringWriter err = new StringWriter();
    CliContext io = new CliContext(new PrintWriter(err), new PrintWriter(err), null, false);
    int exit = LotproofCommand.stopped(io, new IllegalStateException("first line\nsecond line"));
    assertThat(exit).isEqualTo(Exit.FAULT);
    assertThat(err.toString().lines()).hasSize(1);
    assertThat(err.toString()).contains("internal error").contains("first line second line");
  }

  @Test
  void tooLittleMemorySaysHowToGiveMore() {
    assertThat(Main.crash(new OutOfMemoryError("Java heap space")))
        .contains("more memory")
        .contains("-Xmx")
        .doesNotContain("internal error");
  }

  @Test
  void aFaultNamesTheCauseBehindItsWrappings() {
    Throwable cause = new IllegalStateException("a part is missing");
    Throwable wrapped = new ExceptionInInitializerError(cause);
    assertThat(Main.crash(wrapped))
        .isEqualTo(
            "lotproof: internal error, not caused by your data: IllegalStateException: a part is"
                + " missing");
    assertThat(Main.crash(new RuntimeException(wrapped))).isEqualTo(Main.crash(wrapped));
    assertThat(Main.crash(new NoClassDefFoundError("x/Y"))).contains("x/Y").contains("lib");
  }

  /** The program in a machine of its own with parts missing: a line and a code, no stack trace. */
  @Test
  void missingPartsAreToldInALine() throws IOException, InterruptedException {
    Path classes = Path.of(codeSource(Main.class));
    Path without = temp.resolve("classes");
    copy(classes.resolve("lotproof"), without.resolve("lotproof"));
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                without.toString(),
                Main.class.getName(),
                "status",
                Demo.FOLDER.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), UTF_8);
    assertThat(process.waitFor()).isEqualTo(Exit.FAULT);
    assertThat(said.lines()).hasSize(1);
    assertThat(said).contains("internal error").contains("lib").doesNotContain("\tat ");
  }

  private static String codeSource(Class<?> type) {
    return type.getProtectionDomain().getCodeSource().getLocation().getPath();
  }

  private static void copy(Path from, Path to) throws IOException {
    try (Stream<Path> files = Files.walk(from)) {
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        Path target = to.resolve(from.relativize(file));
        Files.createDirectories(target.getParent());
        Files.copy(file, target);
      }
    }
  }
}
