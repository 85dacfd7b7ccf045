package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ImportAndStatusTest {
  private static final String FIRST_SESSION = Demo.received("bench-01.csv");

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void newStudy() {
    study = Demo.emptyInto(temp);
  }

  private Path file(String name, String content) throws IOException {
    return Files.writeString(temp.resolve(name), content);
  }

  private String record() throws IOException {
    Path record = study.resolve("readings.csv");
    return Files.exists(record) ? Files.readString(record) : "";
  }

  @Test
  void aGoodFileIsShownAndKept() throws IOException {
    Ran ran = Ran.lotproof("import", study, file("bench.csv", FIRST_SESSION));
    assertThat(ran.err()).isEmpty();
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("bench.csv: imported, 117 readings of 13 runs")
        .contains("cell temperature [°C]");
    assertThat(record().lines()).hasSize(118);
  }

  @Test
  void aDryRunKeepsNothing() throws IOException {
    Ran ran = Ran.lotproof("import", study, file("bench.csv", FIRST_SESSION), "--dry-run");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("would be imported");
    assertThat(record()).isEmpty();
  }

  @Test
  void aSecondImportIsRecognised() throws IOException {
    Path file = file("bench.csv", FIRST_SESSION);
    assertThat(Ran.lotproof("import", study, file).exit()).isEqualTo(Exit.DONE);
    String before = record();
    Ran again = Ran.lotproof("import", study, file);
    assertThat(again.exit()).isEqualTo(Exit.DONE);
    assertThat(again.out()).contains("already imported");
    assertThat(record()).isEqualTo(before);
    assertThat(Ran.lotproof("import", study, file, "--strict").exit()).isEqualTo(Exit.NO);
  }

  @Test
  void textInANumberColumnIsNamedWithFileLineAndColumn() throws IOException {
    String spoilt = FIRST_SESSION.replaceFirst(",20,", ",twenty,");
    Ran ran = Ran.lotproof("import", study, file("bench.csv", spoilt));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("error: bench.csv, line 4, column load [kg]")
        .contains("twenty")
        .doesNotContain("\tat ");
    assertThat(record()).isEmpty();
  }

  @Test
  void aMissingColumnIsNamed() throws IOException {
    String spoilt = FIRST_SESSION.replaceFirst("output \\[counts\\]", "remark 2");
    Ran ran = Ran.lotproof("import", study, file("bench.csv", spoilt));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("output [counts]");
    assertThat(record()).isEmpty();
  }

  @Test
  void anUnknownSerialIsNamed() throws IOException {
    String spoilt = FIRST_SESSION.replace("C0-0007", "C0-0008");
    Ran ran = Ran.lotproof("import", study, file("bench.csv", spoilt));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("C0-0008")
        .contains("C0-0007")
        .doesNotContain("the plan has no run");
    assertThat(record()).isEmpty();
  }

  @Test
  void aPictureIsNoTable() throws IOException {
    Path picture = temp.resolve("bench.csv");
    Files.write(picture, new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10, 0, 0, 0, 1});
    Ran ran = Ran.lotproof("import", study, picture);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("bench.csv").contains("CSV, JSON, .xlsx or .xls");
  }

  @Test
  void oneBadFileDoesNotStopTheOthers() throws IOException {
    Ran ran =
        Ran.lotproof(
            "import", study, file("bad.csv", "a,b\n1,2\n"), file("bench.csv", FIRST_SESSION));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.out()).contains("bad.csv: refused").contains("bench.csv: imported");
    assertThat(record().lines()).hasSize(118);
  }

  @Test
  void jsonNamesEveryIssueByItsParts() throws IOException {
    String spoilt = FIRST_SESSION.replaceFirst(",20,", ",twenty,");
    Ran ran = Ran.lotproof("import", study, file("bench.csv", spoilt), "--json");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    JsonNode message = MessageSchema.checked(ran.out());
    assertThat(message.at("/exit").asInt()).isEqualTo(Exit.UNUSABLE);
    assertThat(message.at("/files/0/issues/0/line").asInt()).isEqualTo(4);
    assertThat(message.at("/files/0/issues/0/column").asText()).isEqualTo("load [kg]");
    assertThat(message.at("/files/0/issues/0/severity").asText()).isEqualTo("error");
  }

  @Test
  void statusNamesWhatIsMissing() throws IOException {
    JsonNode truth =
        new com.fasterxml.jackson.dataformat.yaml.YAMLMapper()
            .readTree(Demo.FOLDER.resolve("truth.yaml").toFile());
    String cell = truth.at("/troubles/its pair/0").asText();
    String board = truth.at("/troubles/its pair/1").asText();
    Ran ran = Ran.lotproof("status", Demo.FOLDER);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .startsWith("next: cell " + cell + " on board " + board + "\n")
        .contains("Planned and missing: " + cell + " × " + board)
        .contains("Stands out, and nobody decided: board B5-0659,")
        .contains("119 of 120 planned runs measured, 36 of the check standard")
        .doesNotContain("beyond the plan")
        .hasLineCount(11);
    assertThat(Ran.lotproof("status", Demo.FOLDER, "--details").out())
        .startsWith(ran.out().substring(0, ran.out().indexOf("Sessions, pairs")))
        .containsPattern(cell + " +" + board + " +1 +0");
    assertThat(Ran.lotproof("status", Demo.FOLDER, "--strict").exit()).isEqualTo(Exit.NO);
  }

  @Test
  void statusOfAnEmptyStudyListsEveryUnit() throws IOException {
    Ran ran = Ran.lotproof("status", study, "--json");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    JsonNode message = MessageSchema.checked(ran.out());
    assertThat(message.at("/next/cell").asText()).isEqualTo("C1-0543");
    assertThat(message.at("/progress/unmeasured")).hasSize(100);
    assertThat(message.at("/progress/plannedRuns").asInt()).isEqualTo(120);
    assertThat(message.at("/progress/plannedRunsDone").asInt()).isZero();
  }

  @Test
  void theMapperReadsWhatWasPrinted() throws IOException {
    Ran ran = Ran.lotproof("status", Demo.FOLDER, "--json");
    assertThat(new ObjectMapper().readTree(ran.out()).at("/origin/command").asText())
        .isEqualTo("status");
  }
}
