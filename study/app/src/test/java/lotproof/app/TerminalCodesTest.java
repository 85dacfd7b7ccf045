package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Names that hold what a terminal obeys, the program's own colours included. */
class TerminalCodesTest {
  private static final String SERIAL = "C1-\u001b[1m0398\u001b[32m";
  private static final String SHOWN = "C1-\uFFFD[1m0398\uFFFD[32m";

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void aStudyWithSuchNames() throws IOException {
    study = Demo.copyInto(temp);
    edit("study.yaml", "C1-0398", "\"C1-\\e[1m0398\\e[32m\"");
    edit("study.yaml", "\"Hive scale, 50 kg\"", "\"Hive \\e[31mscale\"");
    edit("readings.csv", "C1-0398", SERIAL);
    edit("decisions.csv", "C1-0398", SERIAL);
  }

  private void edit(String name, String from, String to) throws IOException {
    Path file = study.resolve(name);
    Files.writeString(file, Files.readString(file).replace(from, to), StandardCharsets.UTF_8);
  }

  @ParameterizedTest
  @ValueSource(strings = {"status", "review", "claim"})
  void theyAreShownAndNotObeyed(String command) {
    Ran ran = Ran.lotproof(command, study, "--color", "always");
    assertThat(ran.out()).contains("Hive");
    assertThat(ran.out() + ran.err()).doesNotContain("C1-\u001b", "\u001b[31mscale");
  }

  @Test
  void aSerialOfTheRecord() {
    assertThat(Ran.lotproof("review", study, "--color", "always").out())
        .contains("\u001b[1m", SHOWN);
  }

  @Test
  void aFileAndItsCells() throws IOException {
    Path file = temp.resolve("bench\u001b[32m.csv");
    Files.writeString(file, Demo.received("bench-01.csv").replace("C0-0007", "C0-\u001b[31m0007"));
    Ran ran = Ran.lotproof("import", study, file, "--color", "always");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.out()).contains("\u001b[31m", "bench\uFFFD[32m.csv: refused");
    assertThat(ran.out() + ran.err()).doesNotContain("bench\u001b", "C0-\u001b");
  }
}
