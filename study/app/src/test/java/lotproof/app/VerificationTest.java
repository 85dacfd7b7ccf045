package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import lotproof.app.cli.OutputFolder;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

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
    assertThat(ran.err()).contains("origin.json, line 1");
    Path nowhere = temp.resolve("nowhere");
    Ran missing = Ran.lotproof("report", study, "--verify", nowhere);
    assertThat(missing.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(missing.err()).contains("is not there").doesNotContainIgnoringCase("analysing");
    assertThat(Ran.lotproof("report", study, "--verify", report, "--to", nowhere).err())
        .contains("--verify writes nothing");
    assertThat(Ran.lotproof("report", study, "--to", "").err()).contains("names no folder");
    assertThat(nowhere).doesNotExist();
  }

  @ParameterizedTest
  @Order(3)
  @ValueSource(
      strings = {
        "null",
        "{}",
        "[]",
        "{\"command\":\"report\",\"title\":null,\"recordHash\":\"\",\"version\":\"\",\"seed\":1,\"files\":[]}",
        "{\"command\":\"report\",\"title\":\"\",\"recordHash\":\"\",\"version\":\"\",\"seed\":1,\"files\":[null]}",
        "{\"command\":\"report\",\"title\":\"\",\"recordHash\":\"\",\"version\":\"\",\"seed\":1,"
            + "\"files\":[{\"name\":\"../study.yaml\",\"sha256\":\"\"}]}"
      })
  void anOriginWithHolesIsOneLine(String origin, @TempDir Path here) throws IOException {
    Files.writeString(here.resolve("origin.json"), origin);
    Ran verify = Ran.lotproof("report", study, "--verify", here);
    assertThat(verify.exit()).as(verify.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(verify.err()).contains("does not say where a report came from").hasLineCount(1);
    Ran write = Ran.lotproof("report", study, "--to", here);
    assertThat(write.exit()).as(write.err()).isEqualTo(Exit.UNUSABLE);
    assertThat(write.err()).contains("origin.json; name another folder").hasLineCount(1);
  }

  @Test
  @Order(3)
  void whatDoesNotBelongToTheReportIsNamed() throws IOException {
    Path notes = Files.writeString(report.resolve("tables/my\u001b[31m notes.txt"), "keep");
    Path original;
    try (Stream<Path> originals = Files.list(study.resolve("captures"))) {
      original = originals.min(Comparator.naturalOrder()).orElseThrow();
    }
    byte[] kept = Files.readAllBytes(original);
    Files.delete(original);

    Ran ran = Ran.lotproof("report", study, "--verify", report, "--color=always");

    assertThat(ran.exit()).isEqualTo(Exit.NO);
    assertThat(ran.words())
        .contains("tables/my\uFFFD[31m notes.txt does not belong to the report")
        .contains("captures/" + original.getFileName() + " is missing: the record was taken");
    Files.write(original, kept);
    Files.delete(notes);
  }

  @Test
  @Order(3)
  void aFolderIsOneReportAndNothingOfAPersonIsLost(@TempDir Path here) throws IOException {
    Path folder = here.resolve("evidence");
    Path mine = Files.writeString(Files.createDirectory(folder).resolve("notes.txt"), "mine");
    Ran refused = Ran.lotproof("report", study, "--to", folder);
    assertThat(refused.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(refused.err()).contains("notes.txt; name another folder, or add --replace");
    assertThat(mine).hasContent("mine");

    assertThat(Ran.lotproof("report", study, "--to", folder, "--replace").exit())
        .isEqualTo(Exit.DONE);
    assertThat(mine).doesNotExist();
    // a report of another study of levels, left by an earlier run or by one that was stopped
    Files.createDirectory(here.resolve(".evidence.unfinished"));
    Files.writeString(here.resolve(".evidence.unfinished").resolve("half.csv"), "");
    Path stale = Files.writeString(folder.resolve("charts/old-level.svg"), "<svg/>");
    listed(folder, "charts/old-level.svg", stale);
    assertThat(Ran.lotproof("report", study, "--verify", folder).out())
        .contains("charts/old-level.svg belongs to an earlier report");
    assertThat(Ran.lotproof("report", study, "--to", folder).exit()).isEqualTo(Exit.DONE);
    assertThat(stale).doesNotExist();
    try (Stream<Path> left = Files.list(here)) {
      assertThat(left).containsExactly(folder);
    }
    Ran verified = Ran.lotproof("report", study, "--verify", folder);
    assertThat(verified.exit()).as(verified.out()).isEqualTo(Exit.DONE);

    Files.writeString(folder.resolve("report.txt"), "my words");
    assertThat(Ran.lotproof("report", study, "--to", folder).err())
        .contains("changed since: report.txt");
    assertThat(folder.resolve("report.txt")).hasContent("my words");
    assertThat(Ran.lotproof("limits", study, "--to", folder).err())
        .contains("holds what lotproof report wrote");
  }

  @Test
  @Order(3)
  void noOutputReplacesAStudy() {
    for (Path folder : List.of(study, temp)) {
      Ran ran = Ran.lotproof("report", study, "--to", folder, "--replace");
      assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
      assertThat(ran.err()).contains("holds a study, which no output replaces").hasLineCount(1);
    }
    assertThat(study.resolve("study.yaml")).exists();
  }

  /** Adds a file to a report as if an earlier run had written it. */
  private static void listed(Path folder, String name, Path file) throws IOException {
    Path origin = folder.resolve("origin.json");
    ObjectMapper json = new ObjectMapper();
    JsonNode tree = json.readTree(origin.toFile());
    ((ArrayNode) tree.get("files"))
        .addObject()
        .put("name", name)
        .put("sha256", OutputFolder.hashOf(file));
    json.writeValue(origin.toFile(), tree);
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
