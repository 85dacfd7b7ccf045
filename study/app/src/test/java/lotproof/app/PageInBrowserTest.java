package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assumptions.assumeThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page as a reader uses it. What needs a browser is skipped where none is installed. */
class PageInBrowserTest {
  private static final int DESK = 1440;
  private static final int TABLET = 1024;
  private static final int PHONE = 390;

  @TempDir private Path temp;

  @Test
  void theDemoStudyAtADesk() throws IOException, InterruptedException {
    Optional<Browser> browser = Browser.installed();
    assumeThat(browser).as("a browser, and AXE_CORE in the environment").isPresent();
    Path report = temp.resolve("report");
    assertThat(Ran.lotproof("report", Demo.FOLDER, "--to", report).exit()).isEqualTo(Exit.DONE);

    JsonNode desk = browser.get().check(report.resolve("report.html"), DESK, false, temp);
    holds(desk, false);
    // 34 g are 1.1993 oz, which is rounded outward; 50 kg are 110.23 lb
    assertThat(desk.path("pounds").asText())
        .contains("±34 g (1.2 oz)", "20 kg (44.09 lb)", "0 to 50 kg (110.2 lb)");
  }

  @Test
  @Tag("slow")
  void theDemoStudyInTheDark() throws IOException, InterruptedException {
    Optional<Browser> browser = Browser.installed();
    assumeThat(browser).as("a browser, and AXE_CORE in the environment").isPresent();
    Path report = temp.resolve("report");
    assertThat(Ran.lotproof("report", Demo.FOLDER, "--to", report).exit()).isEqualTo(Exit.DONE);

    holds(browser.get().check(report.resolve("report.html"), TABLET, true, temp), true);
  }

  @Test
  void anUglyStudyOnAPhone() throws IOException, InterruptedException {
    Path report = temp.resolve("report");
    Path study = UglyStudy.into(temp);
    Ran ran = Ran.lotproof("report", study, "--to", report);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    String page = Files.readString(report.resolve("report.html"));
    for (String markup : List.of("<script>alert", "<img", "<b>CELL", "<i>board")) {
      assertThat(page.contains(markup)).as(markup).isFalse();
    }
    assertThat(page.contains("&lt;script&gt;alert")).as("the title, escaped").isTrue();

    Optional<Browser> browser = Browser.installed();
    assumeThat(browser).as("a browser, and AXE_CORE in the environment").isPresent();
    holds(browser.get().check(report.resolve("report.html"), PHONE, false, temp), false);
  }

  private static void holds(JsonNode found, boolean dark) {
    assertThat(found.path("trouble").asText("")).isEmpty();
    assertThat(found.path("dark").asBoolean()).isEqualTo(dark);
    List<String> violations = new ArrayList<>();
    found.path("violations").forEach(one -> violations.add(one.asText()));
    assertThat(violations).isEmpty();
    assertThat(found.path("rules").asInt()).isGreaterThan(10);
    assertThat(found.path("fetched").asInt(-1)).isZero();
    assertThat(found.path("sticksOut").asInt(-1)).as("nothing sticks out sideways").isZero();

    assertThat(found.path("atFocus").asText()).containsPattern("\\d");
    assertThat(found.path("afterRight").asText())
        .containsPattern("\\d")
        .isNotEqualTo(found.path("atFocus").asText());
    assertThat(found.path("litRuns").asInt()).as("all runs of the unit").isGreaterThan(1);
    assertThat(found.path("afterDown").asText()).isNotEqualTo(found.path("afterRight").asText());
    assertThat(found.path("afterEscape").asText("x")).isEmpty();
    assertThat(found.path("atPointer").asText()).isNotEmpty();
    assertThat(found.path("charts").asInt()).isGreaterThan(5);
    assertThat(found.path("chartsWithKeys").asInt()).isEqualTo(found.path("charts").asInt());

    List<Double> sorted = new ArrayList<>();
    found.path("sorted").forEach(value -> sorted.add(value.asDouble()));
    assertThat(sorted).hasSizeGreaterThan(1).isSorted();
    assertThat(found.path("sortedAs").asText()).isEqualTo("ascending");

    assertThat(found.path("judged").path(0).asText()).contains("not supported", "too tight");
    assertThat(found.path("judged").path(1).asText()).startsWith("supported, margin");
    assertThat(found.path("judged").path(2).asText()).contains("confidence");
    assertThat(found.path("contents").asInt()).isGreaterThanOrEqualTo(16);
    assertThat(found.path("judgedElse").asText()).startsWith("printable ");
    assertThat(found.path("judgedAgain").asText()).isEqualTo(found.path("judged").path(2).asText());
    assertThat(found.path("lots").size()).isGreaterThan(1);
    assertThat(found.path("litLot").asInt()).isPositive();
    assertThat(found.path("litAll").asInt()).as("no lot chosen").isZero();

    assertThat(found.path("metric").asText()).doesNotContain(" oz)");
    assertThat(found.path("metricAgain").asText()).isEqualTo(found.path("metric").asText());
    assertThat(found.path("pounds").asText()).containsPattern(" g \\([\\d.]+ oz\\)");

    assertThat(found.path("chosen")).hasSize(1);
    assertThat(found.path("chosen").path(0).asText()).isEqualTo(found.path("wasChosen").asText());

    assertThat(found.path("found").asText()).contains("row").doesNotContain("No such");
    assertThat(found.path("hits").asInt()).isPositive();
    assertThat(found.path("litUnit").asInt()).isPositive();
    assertThat(found.path("steppedTo").asBoolean()).as("Enter shows a hit").isTrue();
    assertThat(found.path("foldsLeftOpen").asInt(-1)).as("clearing folds again").isZero();

    assertThat(found.path("broken")).isEmpty();
    assertThat(found.path("evidenceLinks").asInt()).isGreaterThan(3);
    assertThat(found.path("explained").asBoolean()).as("down to a file and row").isTrue();
    assertThat(found.path("wordsClosed").asInt()).isLessThanOrEqualTo(2500);
    assertThat(found.path("wordsOpen").asInt()).isLessThanOrEqualTo(6000);
    assertThat(found.path("tabStops").asInt()).isLessThanOrEqualTo(60);
    assertThat(found.path("chartsAtOnce").asInt()).isLessThanOrEqualTo(9);
  }
}
