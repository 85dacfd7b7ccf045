package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.app.cli.CliContext;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;

/**
 * Commands that documents and help show. Those of documents are run, with names in place of words
 * such as STUDY and with what a sentence leaves out; the tutorial has a test of its own.
 */
@Tag("slow")
class DocumentedCommandsTest {
  private static final Path ROOT = Path.of("..", "..");
  private static final Pattern SPAN = Pattern.compile("`(lotproof [^`]*)`");

  private static final String NEW_STUDY =
      " --title Scale --cells A=5 --cells B=5 --boards X=5 --boards Y=5 --check K0/B0"
          + " --capacity \"50 kg\" --default-factor \"83886.08 counts/kg\""
          + " --converter-scale \"2097152 counts/(mV/V)\" --temperature 18..26"
          + " --bench-masses F2 --cell-sd 240 --board-sd 90 --repeat-sd 10";

  /** What is run for what is written. */
  private static final Map<String, String> RUN =
      Map.ofEntries(
          Map.entry("lotproof plan STUDY", "lotproof plan planned" + NEW_STUDY),
          Map.entry("lotproof rehearse STUDY", "lotproof rehearse hive-scale --times 100"),
          Map.entry("lotproof enter STUDY", "lotproof enter hive-scale"),
          Map.entry(
              "lotproof import STUDY FILE...", "lotproof import empty bench-01.csv bench-02.csv"),
          Map.entry("lotproof status STUDY", "lotproof status hive-scale"),
          Map.entry("lotproof review STUDY", "lotproof review hive-scale"),
          Map.entry("lotproof spread STUDY", "lotproof spread hive-scale"),
          Map.entry(
              "lotproof spread FILE.csv",
              "lotproof spread results.csv --value gain --cell cell --board board"),
          Map.entry("lotproof claim STUDY", "lotproof claim hive-scale"),
          Map.entry("lotproof report STUDY", "lotproof report hive-scale --to evidence"),
          Map.entry("lotproof COMMAND --help", "lotproof claim --help"),
          Map.entry(
              "lotproof report STUDY --verify FOLDER",
              "lotproof report hive-scale --verify evidence"),
          Map.entry("lotproof claim STUDY --explain", "lotproof claim hive-scale --explain"),
          Map.entry("lotproof watch", "lotproof watch hive-scale"),
          Map.entry("lotproof watch STUDY", "lotproof watch hive-scale"),
          Map.entry("lotproof limits STUDY", "lotproof limits hive-scale"),
          Map.entry("lotproof noise FILE...", "lotproof noise rest.txt --rate 10"),
          Map.entry(
              "lotproof spread FILE --block COLUMN",
              "lotproof spread results.csv --block operator --value gain --cell cell"
                  + " --board board"),
          Map.entry(
              "lotproof plan --side-test \"creep=0,50,50,0: loads that stay on for 30 min\"",
              "lotproof plan --side-test \"creep=0,50,50,0: loads that stay on for 30 min\" sided"
                  + NEW_STUDY),
          Map.entry("lotproof plan STUDY --side-sheets", "lotproof plan sided --side-sheets"),
          Map.entry(
              "lotproof review STUDY --decide ...",
              "lotproof review decided --decide excluded --unit C1-0508 --cause \"bench damage\""
                  + " --why \"dropped, photo 12\" --who \"Mara Lind\" --when 2026-10-01"));

  /** Each needs what those before it have made. */
  private static final List<String> FIRST =
      List.of(
          "lotproof report STUDY",
          "lotproof plan --side-test \"creep=0,50,50,0: loads that stay on for 30 min\"");

  @TempDir private static Path temp;

  @TestFactory
  Stream<DynamicTest> documents() throws IOException {
    prepare();
    List<String> written = written();
    assertThat(written).hasSizeGreaterThan(15).containsAll(FIRST);
    return Stream.concat(FIRST.stream(), written.stream().filter(c -> !FIRST.contains(c)))
        .map(
            command ->
                DynamicTest.dynamicTest(
                    command,
                    () -> {
                      assertThat(RUN).as("says how each is run").containsKey(command);
                      String run = RUN.get(command);
                      assertThat(Tutorial.words(run))
                          .containsAll(
                              Tutorial.words(command).stream()
                                  .filter(word -> !word.matches("[A-Z]{4,}(\\.csv|\\.{3})?|\\.{3}"))
                                  .toList());
                      assertThat(Tutorial.output(run, temp)).isNotBlank();
                    }));
  }

  private static List<String> written() throws IOException {
    try (Stream<Path> documents = Files.list(ROOT.resolve("docs"))) {
      TreeSet<String> commands = new TreeSet<>();
      for (Path document :
          Stream.concat(documents, Stream.of(ROOT.resolve("README.md")))
              .filter(path -> path.toString().endsWith(".md"))
              .filter(path -> !path.endsWith("tutorial.md") && !path.endsWith("changelog.md"))
              .toList()) {
        Matcher span = SPAN.matcher(Files.readString(document));
        while (span.find()) {
          commands.add(span.group(1).replace('\n', ' '));
        }
      }
      return List.copyOf(commands);
    }
  }

  private static void prepare() throws IOException {
    Demo.copyInto(temp);
    Demo.copyInto(Files.createDirectory(temp.resolve("other")));
    Files.move(temp.resolve("other").resolve("hive-scale"), temp.resolve("decided"));
    Demo.emptyInto(temp);
    for (String name : List.of("bench-01.csv", "bench-02.csv")) {
      Files.writeString(temp.resolve(name), Demo.received(name));
    }
    List<String> rest = new ArrayList<>();
    for (int i = 0; i < 400; i++) {
      rest.add(String.valueOf(8_000_000 + i * i * 31 % 97));
    }
    Files.write(temp.resolve("rest.txt"), rest);
    List<String> results = new ArrayList<>(List.of("cell,board,operator,gain"));
    for (int i = 0; i < 40; i++) {
      double gain = 2 + 0.01 * (i % 10) + 0.003 * (i * 7 % 11) + 0.0004 * (i * 5 % 13);
      results.add(
          "C" + i % 10 + ",B" + i * 7 % 11 + "," + (i % 2 == 0 ? "Ana" : "Ben") + "," + gain);
    }
    Files.write(temp.resolve("results.csv"), results);
  }

  @Test
  void everyCommandAndOptionIsDescribed() {
    PrintWriter nowhere = new PrintWriter(Writer.nullWriter());
    CommandLine program =
        LotproofCommand.commandLine(new CliContext(nowhere, nowhere, null, false));
    for (CommandLine command : program.getSubcommands().values()) {
      CommandSpec spec = command.getCommandSpec();
      assertThat(spec.usageMessage().header()).as(spec.name()).isNotEmpty();
      assertThat(spec.args())
          .as(spec.name())
          .allMatch(arg -> !String.join("", arg.description()).isBlank());
    }
  }

  /** Examples of help name files that a reader has and a test has not; they are parsed. */
  @Test
  void examplesOfHelpAreUnderstood() {
    PrintWriter nowhere = new PrintWriter(Writer.nullWriter());
    CommandLine program =
        LotproofCommand.commandLine(new CliContext(nowhere, nowhere, null, false));
    List<String> examples =
        Stream.concat(Stream.of(program), program.getSubcommands().values().stream())
            .map(command -> String.join("\n", command.getCommandSpec().usageMessage().footer()))
            .flatMap(footer -> footer.replace("\\\n", " ").lines())
            .map(String::strip)
            .map(example -> example.replace("COMMAND", "claim").replaceAll(" < \\S+$", ""))
            .filter(example -> !example.isEmpty())
            .collect(Collectors.toList());
    assertThat(examples)
        .hasSizeGreaterThan(40)
        .allMatch(example -> example.startsWith("lotproof "));
    for (String example : examples) {
      List<String> words = Tutorial.words(example);
      assertThatCode(
              () ->
                  LotproofCommand.commandLine(new CliContext(nowhere, nowhere, null, false))
                      .parseArgs(words.subList(1, words.size()).toArray(new String[0])))
          .as(example)
          .doesNotThrowAnyException();
    }
  }
}
