package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;

/** A report held against its record, on the first two sessions of the demo study. */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class VerificationTest {
  @TempDir private static Path temp;
  private static Path study;
  private static Path report;

  @BeforeAll
  static void reportOfTwoSessions() throws IOException {
    study = Demo.emptyInto(temp);
    take("bench-01.csv");
    take("bench-02.csv");
    Demo.planWhatWasMeasured(study);
    report = temp.resolve("evidence");
    assertThat(Ran.lotproof("report", study, "--to", report).exit()).isEqualTo(Exit.DONE);
  }

  private static void take(String name) throws IOException {
    Path received = Files.writeString(temp.resolve(name), Demo.received(name));
    assertThat(Ran.lotproof("import", study, received).exit()).isEqualTo(Exit.DONE);
  }

  @Test
  @Order(1)
  void untouchedReportHolds() {
    Ran ran = Ran.lotproof("report", study, "--verify", report);
    assertThat(ran.out()).contains("holds: all ").contains("byte for byte");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
  }

  @Test
  @Order(2)
  void alteredAndMissingFilesAreNamed() throws IOException {
    Path sentence = report.resolve("claim.txt");
    String before = Files.readString(sentence);
    Files.writeString(sentence, before.replace("±", "± less than "));
    Path table = report.resolve("tables/figures.csv");
    byte[] kept = Files.readAllBytes(table);
    Files.delete(table);
    Ran ran = Ran.lotproof("report", study, "--verify", report);
    assertThat(ran.exit()).isEqualTo(Exit.NO);
    assertThat(ran.out())
        .contains("claim.txt was altered after it was written")
        .contains("tables/figures.csv is missing")
        .doesNotContain("report.html");
    Files.writeString(sentence, before);
    Files.write(table, kept);
  }

  @Test
  @Order(3)
  void whatIsNoReportIsSaid() throws IOException {
    assertThat(Ran.lotproof("report", study, "--verify", temp).exit()).isEqualTo(Exit.UNUSABLE);
    Path broken = Files.createDirectory(temp.resolve("broken"));
    Files.writeString(broken.resolve("origin.json"), "{\"title\": 7,");
    Ran ran = Ran.lotproof("report", study, "--verify", broken);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("origin.json:1:");
    Path nowhere = temp.resolve("nowhere");
    Ran missing = Ran.lotproof("report", study, "--verify", nowhere);
    assertThat(missing.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(missing.err()).contains("is not there").doesNotContain("analysing");
    assertThat(Ran.lotproof("report", study, "--verify", report, "--to", nowhere).err())
        .contains("--verify writes nothing");
    assertThat(Ran.lotproof("report", study, "--to", "").err()).contains("names no folder");
    assertThat(nowhere).doesNotExist();
  }

  @Test
  @Order(4)
  void laterReadingsMakeItOld() throws IOException {
    take("bench-03.csv");
    Ran ran = Ran.lotproof("report", study, "--verify", report, "--json");
    assertThat(ran.exit()).isEqualTo(Exit.NO);
    JsonNode message = MessageSchema.checked(ran.out());
    assertThat(message.at("/holds").asBoolean()).isFalse();
    assertThat(message.at("/reasons/0").asText()).contains("study folder has changed");
    assertThat(message.at("/files").findValuesAsText("standing")).contains("different");
  }
}
