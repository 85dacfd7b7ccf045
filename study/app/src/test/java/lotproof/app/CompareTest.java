package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** {@code claim --compare}: the same figures as a study that is really asked or decided so. */
class CompareTest {
  @TempDir private Path temp;

  @Test
  void otherTermsGiveTheClaimOfAStudyThatIsAskedSo() throws IOException {
    Path other = Demo.copyInto(temp.resolve("other"));
    Path definition = other.resolve("study.yaml");
    String yaml = Files.readString(definition);
    String asked = yaml.replace("content: 0.95", "content: 0.99");
    assertThat(asked).isNotEqualTo(yaml);
    Files.writeString(definition, asked);

    assertThat(limits(compared("content 99 %").at("/alternatives/0/claims")))
        .isEqualTo(limits(json(Ran.lotproof("claim", other, "--json")).path("asDecided")));
  }

  @Test
  @Tag("slow")
  void aUnitLeftOutGivesTheClaimOfAStudyThatDecidedSo() throws IOException {
    Path other = Demo.copyInto(temp.resolve("other"));
    Ran decided =
        Ran.lotproof(
            "review",
            other,
            "--decide",
            "excluded",
            "--unit",
            "C4-0618",
            "--cause",
            "bench damage",
            "--why",
            "dropped",
            "--who",
            "Mara Lind",
            "--when",
            "2026-10-01");
    assertThat(decided.exit()).as(decided.err()).isEqualTo(Exit.DONE);

    assertThat(limits(compared("without C4-0618").at("/alternatives/0/claims")))
        .isEqualTo(limits(json(Ran.lotproof("claim", other, "--json")).path("asDecided")));
  }

  @Test
  @Tag("slow")
  void whatIsPutBackAndTakenOutAgainChangesNothing() throws IOException {
    JsonNode compared = compared("with C2-0343 and without C2-0343");
    assertThat(limits(compared.at("/alternatives/0/claims")))
        .isEqualTo(limits(compared.path("asRecorded")));
  }

  @Test
  @Tag("slow")
  void fewerLotsRestOnTheirUnitsAlone() throws IOException {
    JsonNode claim = compared("lots C1, C2 and confidence 90").at("/alternatives/0/claims/0");
    assertThat(claim.at("/coverage/plannedUnits/cell").asInt()).isBetween(15, 30);
    assertThat(claim.at("/coverage/missingRuns")).as("as in the whole study").hasSize(1);
    assertThat(claim.at("/outcome/limitGrams").asDouble()).isPositive();
  }

  @Test
  void theTableHoldsEightyColumnsAndTheExitCodeOfTheClaim() {
    Ran ran =
        Ran.lotproof(
            "claim", Demo.FOLDER, "--compare", "content 99 %", "--compare", "with B3-0519");
    assertThat(ran.exit()).isEqualTo(Ran.lotproof("claim", Demo.FOLDER).exit());
    assertThat(ran.out()).contains("as recorded", "content 99 %", "with B3-0519", "±34 g, yes");
    assertThat(ran.out().lines()).allMatch(line -> line.length() <= 80);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "content 30|no share from 50 to below 100 %",
        "confidence 100 %|no share from 50 to below 100 %",
        "content much|no share from 50 to below 100 %",
        "with C4-0618|no decision leaves C4-0618 out",
        "without C4-618|did you mean \"C4-0618\"?",
        "lots C9|the study has no lot C9",
        "everything|\"everything\" is none of",
        "content 99 % and more|\"more\" is none of"
      })
  void wrongTermsSayWhatWouldDo(String terms, String message) {
    Ran ran = Ran.lotproof("claim", Demo.FOLDER, "--compare", terms);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--compare: ").contains(message);
  }

  private static JsonNode compared(String terms) throws IOException {
    return json(Ran.lotproof("claim", Demo.FOLDER, "--compare", terms, "--json"));
  }

  private static JsonNode json(Ran ran) throws IOException {
    return MessageSchema.checked(ran.out());
  }

  private static String limits(JsonNode claims) {
    assertThat(claims).hasSize(3);
    return claims.findValues("outcome").stream()
            .map(outcome -> outcome.path("limitGrams") + " " + outcome.path("printableGrams"))
            .toList()
        + claims.findValues("supported").toString();
  }
}
