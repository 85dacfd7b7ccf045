package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Texts that Java reads as numbers and a bench does not, at each place where a number is given. */
class NoNumbersTest {
  @TempDir private Path temp;

  private Path file(String name, String text) throws IOException {
    return Files.writeString(temp.resolve(name), text);
  }

  private Path study() {
    return BenchFile.emptyStudy(temp.resolve("study")).root();
  }

  private static void refused(Ran ran, String... said) {
    assertThat(ran.exit()).as(ran.out() + ran.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains(said);
  }

  @ParameterizedTest
  @ValueSource(strings = {"51332f", "51332D", "0x1p10", "1e5d", "NaN", "Infinity", "-Infinity"})
  void areNoneAnywhere(String text) throws IOException {
    String head = "session,run,step,cell,board,load [kg],";
    Path table = file("t.csv", head + "output [counts]\nS1,R1,1,CA-001,BA-001,0," + text + "\n");
    refused(Ran.lotproof("import", study(), table), "\"" + text + "\" is not a number");

    file("c.log", "51332\n51333\n51332\n");
    Path manifest = file("m.csv", head + "file\nS1,R1,1,CA-001,BA-001," + text + ",c.log\n");
    refused(
        Ran.lotproof("import", study(), "--captures", manifest),
        "\"" + text + "\" is not a number");

    refused(Ran.lotproof("noise", file("all.log", (text + "\n").repeat(100))), "all.log, line 1");

    Path units = file("u.csv", "unit,value\nA," + text + "\nB,2.5\nC,3.5\nD,4.5\n");
    refused(Ran.lotproof("spread", units, "--value", "value"), "\"" + text + "\" is not a number");

    Path definition = study().resolve("study.yaml");
    String defined = Files.readString(definition);
    Files.writeString(definition, defined.replace("capacity: 50 kg", "capacity: " + text + " kg"));
    refused(Ran.lotproof("status", temp.resolve("study")), "study.yaml, line 8", text);
    Files.writeString(definition, defined.replaceAll("content: .*", "content: " + text));
    refused(Ran.lotproof("status", temp.resolve("study")), "content must be a number");
    Files.writeString(definition, defined);

    Path demo = Demo.FOLDER;
    refused(Ran.lotproof("claim", demo, "--wanted", "none=" + text), text);
    refused(Ran.lotproof("limits", demo, "--uncertainty", text), text);
    refused(Ran.lotproof("limits", demo, "--test-loads", "20," + text), text);
    refused(Ran.lotproof("spread", units, "--content", text), text);
    refused(Ran.lotproof("plan", "--rounding", text), text);
  }

  @ParameterizedTest
  @ValueSource(strings = {"0x10", "010", "1_000"})
  void whatYamlReadsAsAnotherNumberIsNone(String text) throws IOException {
    Path definition = study().resolve("study.yaml");
    String defined = Files.readString(definition).replaceAll("seed: .*", "seed: " + text);
    Files.writeString(definition, defined);
    refused(Ran.lotproof("status", temp.resolve("study")), "line 4", "is the text \"" + text);
  }

  @ParameterizedTest
  @ValueSource(strings = {"51332f", "0x1p10", "NaN", "Infinity"})
  void areNoneWhenTyped(String text) {
    Path study = temp.resolve("planned");
    EntryStudy.plan(study, 4);
    StringWriter out = new StringWriter();
    PrintWriter to = new PrintWriter(out);
    String typed = "\n\n\n" + text + "\nquit\n";
    BufferedReader in = new BufferedReader(new StringReader(typed));
    int exit =
        Main.run(new CliContext(to, to, in, false), "enter", study.toString(), "--who", "Ann");
    assertThat(exit).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("\"" + text + "\" is no number");
  }
}
