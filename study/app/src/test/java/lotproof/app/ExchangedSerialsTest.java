package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Exchanged serials of the demo study, told by every command until a person decides. */
class ExchangedSerialsTest {
  private static final String TOLD = "the cells of runs S08-06 and S08-08 look exchanged";

  @TempDir private Path temp;

  /** The demo study with the decisions that contain one of these. */
  private Path demoWith(String... decisions) throws IOException {
    Path study = Demo.copyInto(temp);
    Path file = study.resolve("decisions.csv");
    List<String> lines = Files.readAllLines(file);
    Files.write(
        file,
        IntStream.range(0, lines.size())
            .filter(i -> i == 0 || List.of(decisions).stream().anyMatch(lines.get(i)::contains))
            .mapToObj(lines::get)
            .toList());
    return study;
  }

  private static JsonNode json(Object... words) throws IOException {
    return new ObjectMapper().readTree(Ran.lotproof(words).out());
  }

  private static void assertNamed(JsonNode exchanged, JsonNode issues) {
    assertThat(exchanged).hasSize(1);
    JsonNode found = exchanged.get(0);
    assertThat(found.at("/one/run").asText()).isEqualTo("S08-06");
    assertThat(found.at("/one/fits").asText()).isEqualTo("C3-0181");
    assertThat(found.at("/other/run").asText()).isEqualTo("S08-08");
    assertThat(found.at("/other/fits").asText()).isEqualTo("C1-0398");
    assertThat(found.get("restoresPlan").asBoolean()).isTrue();
    assertThat(found.get("gain").asDouble()).isGreaterThan(found.get("needed").asDouble());
    assertThat(issues.findValuesAsText("code")).containsOnlyOnce("pair-swapped");
  }

  @Test
  void statusAndReviewNameThem() throws IOException {
    Path study = demoWith("bench damage", "production screen");
    Ran status = Ran.lotproof("status", study);
    assertThat(status.err()).containsOnlyOnce(TOLD).contains("--run S08-06 --right-cell C3-0181");
    assertThat(Ran.lotproof("status", study, "--strict").exit()).isEqualTo(Exit.NO);
    JsonNode inStatus = json("status", study, "--json");
    assertNamed(inStatus.at("/findings/exchanged"), inStatus.get("issues"));
    Ran review = Ran.lotproof("review", study);
    assertThat(review.out()).contains("Serials that look exchanged");
    assertThat(review.err()).containsOnlyOnce(TOLD);
    JsonNode inReview = json("review", study, "--json");
    assertNamed(inReview.get("exchanged"), inReview.get("issues"));
  }

  @Test
  void anImportNamesThemOnceTheyAreInTheRecord() throws IOException {
    Path study = Demo.emptyInto(temp);
    for (int i = 1; i <= 8; i++) {
      String name = String.format(Locale.ROOT, "bench-%02d.csv", i);
      Path file = Files.writeString(temp.resolve(name), Demo.received(name));
      if (i < 8) {
        Ran ran = Ran.lotproof("import", study, file);
        assertThat(ran.exit()).isEqualTo(Exit.DONE);
        assertThat(ran.err()).doesNotContain("look exchanged");
      } else {
        assertThat(Ran.lotproof("import", study, file, "--dry-run").err()).doesNotContain(TOLD);
        JsonNode told = json("import", study, file, "--json");
        assertThat(told.get("exit").asInt()).isZero();
        assertNamed(told.get("exchanged"), told.get("issues"));
      }
    }
  }

  @Test
  void whatPeopleDecidedIsNotToldAgain() throws IOException {
    assertThat(Ran.lotproof("status", Demo.FOLDER).err()).doesNotContain("look exchanged");
    assertThat(json("review", Demo.FOLDER, "--json").get("exchanged")).isEmpty();
    Path study = demoWith("bench damage", "production screen");
    Ran decided =
        Ran.lotproof(
            "review",
            study,
            "--decide",
            "stays-in",
            "--run",
            "S08-06",
            "--who",
            "bench",
            "--when",
            "2026-09-16T11:00:00",
            "--why",
            "both labels looked at");
    assertThat(decided.exit()).as(decided.err()).isEqualTo(Exit.DONE);
    assertThat(Ran.lotproof("status", study).err()).doesNotContain(TOLD);
  }
}
