package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The commands that report, on the first three sessions of the demo study: thirty kits. */
class ReportingTest {
  @TempDir private static Path temp;
  private static Path study;

  @BeforeAll
  static void threeSessions() throws IOException {
    study = Demo.emptyInto(temp);
    for (String name : List.of("bench-01.csv", "bench-02.csv", "bench-03.csv")) {
      Path file = Files.writeString(temp.resolve(name), Demo.received(name));
      assertThat(Ran.lotproof("import", study, file).exit()).isEqualTo(Exit.DONE);
    }
    Demo.planWhatWasMeasured(study);
  }

  @Test
  void claimSaysTheSentenceAndTheVerdicts() {
    Ran ran = Ran.lotproof("claim", study, "--wanted", "none=5000", "--details");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.words())
        .contains("Print ±5000 g? Yes, without calibration.")
        .contains("Reading error within")
        .contains("95 % confidence")
        .contains("30 cells from 5 lots")
        .contains("±5000 g supported");
  }

  @Test
  void aFigureThatIsNotSupportedIsANo() {
    Ran ran = Ran.lotproof("claim", study, "--wanted", "none=5");
    assertThat(ran.exit()).isEqualTo(Exit.NO);
    assertThat(ran.words()).contains("±5 g not supported");
  }

  @Test
  void aWantedLevelThatTheStudyDoesNotAskIsNamed() {
    Ran ran = Ran.lotproof("claim", study, "--wanted", "two-pont=5");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("two-pont").contains("two-point");
    Ran negative = Ran.lotproof("claim", study, "--wanted", "none=-5");
    assertThat(negative.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(negative.err()).contains("above 0");
  }

  @Test
  void claimExplainsDownToFileAndRow() {
    Ran plain = Ran.lotproof("claim", study);
    Ran explained = Ran.lotproof("claim", study, "--explain", "--level", "two-point");
    assertThat(plain.out()).doesNotContain(".csv, row ");
    assertThat(explained.out()).contains(".csv, row ");
  }

  @Test
  void claimAsJsonKeepsToTheSchema() throws IOException {
    Ran ran = Ran.lotproof("claim", study, "--json");
    JsonNode message = MessageSchema.checked(ran.out());
    assertThat(message.at("/origin/exit").asInt()).isEqualTo(ran.exit());
    assertThat(message.at("/asDecided")).hasSize(3);
    assertThat(message.at("/asDecided/0/outcome/kind").asText()).isEqualTo("figure");
    assertThat(message.at("/asDecided/0/outcome/printableGrams").asDouble()).isPositive();
    assertThat(message.at("/cautions")).isNotEmpty();
  }

  @Test
  void spreadOfAStudyCoversEveryCharacteristic() throws IOException {
    assertThat(Ran.lotproof("spread", study).out()).contains("Sensitivity").contains("Hysteresis");
    JsonNode message = MessageSchema.checked(Ran.lotproof("spread", study, "--json").out());
    assertThat(message.at("/spreads")).hasSizeGreaterThanOrEqualTo(6);
  }

  @Test
  void reviewShowsTheOscillatingBoard() throws IOException {
    JsonNode truth =
        new com.fasterxml.jackson.dataformat.yaml.YAMLMapper()
            .readTree(Demo.FOLDER.resolve("truth.yaml").toFile());
    String board = truth.at("/troubles/board whose reference oscillates").asText();
    Ran ran = Ran.lotproof("review", study);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("Noise");
    assertThat(Ran.lotproof("review", study, "--details").out()).contains(board);
    MessageSchema.checked(Ran.lotproof("review", study, "--json").out());
  }

  @Test
  void reportWritesTheEvidenceAndLeavesTheStudyAlone() throws IOException {
    Path to = temp.resolve("evidence");
    String before = Files.readString(study.resolve("readings.csv"));
    Ran ran = Ran.lotproof("report", study, "--to", to);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("Print ±50 g? Yes", "Printable")
        .contains("Report written to " + to)
        .contains("report.html")
        .contains("report.xlsx")
        .contains("claim.txt")
        .contains("result.json")
        .contains("Not for trade");
    for (String name : new String[] {"report.html", "report.xlsx", "claim.txt", "report.txt"}) {
      assertThat(to.resolve(name)).isNotEmptyFile();
    }
    assertThat(to.resolve("charts")).isNotEmptyDirectory();
    JsonNode result =
        MessageSchema.checked(Files.readString(to.resolve("result.json")), "result.schema.json");
    assertThat(result.get("withoutExclusions").isNull()).as("nothing is excluded").isTrue();
    assertThat(result.at("/asDecided/claims/0/curves")).isNotEmpty();
    Set<Double> known = new HashSet<>();
    collect(result, known);
    for (String table :
        List.of("unit-limits", "pair-limits", "load-guards", "runs", "unit-values")) {
      List<String> lines = Files.readAllLines(to.resolve("tables/" + table + ".csv"));
      for (String field : String.join(",", lines.subList(1, lines.size())).split(",", -1)) {
        if (field.matches("-?[0-9.]+(E-?[0-9]+)?")) {
          assertThat(known).as(table).contains(Double.valueOf(field));
        }
      }
    }
    assertThat(Files.readString(study.resolve("readings.csv"))).isEqualTo(before);
    assertThat(study.resolve("reports")).doesNotExist();
  }

  private static void collect(JsonNode node, Set<Double> numbers) {
    if (node.isNumber()) {
      numbers.add(node.asDouble());
    }
    node.forEach(child -> collect(child, numbers));
  }

  @Test
  void underStrictDataIssuesAreANo() {
    Ran ran = Ran.lotproof("report", Demo.FOLDER, "--to", temp.resolve("strict"), "--strict");
    assertThat(ran.exit()).isEqualTo(Exit.NO);
  }

  @Test
  void aFolderThatCannotBeMadeIsUnusableInOneLine() throws IOException {
    Path file = Files.writeString(temp.resolve("in-the-way"), "x");
    Ran ran = Ran.lotproof("report", study, "--to", file.resolve("below"));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("cannot write")
        .doesNotContain("internal error")
        .doesNotContain("\tat ");
  }

  @Test
  void aFileCannotBeTheTargetOfAReport() throws IOException {
    Path file = Files.writeString(temp.resolve("taken"), "x");
    Ran ran = Ran.lotproof("report", study, "--to", file);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("is a file");
  }
}
