package lotproof.report.summary;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalLong;
import lotproof.claim.StudyResult;
import lotproof.report.MemorySink;
import lotproof.report.assembly.DemoResult;
import lotproof.report.assembly.StudyReport;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Identity;
import lotproof.report.model.Level;
import lotproof.report.model.Report;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The one page for the file holds what the screen says, as text, on either paper. */
class SummaryWriterTest {
  private static final String HASH = "0123456789abcdef".repeat(4);

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource
  void theDemoFillsOneSheetThatSaysWhatTheScreenSays(Paper paper) throws IOException {
    Report report = StudyReport.of(DemoResult.get(), HASH, "1.2.3");
    byte[] pdf = written(report, paper);
    try (PDDocument document = Loader.loadPDF(pdf)) {
      assertThat(document.getNumberOfPages()).isEqualTo(1);
      assertThat(document.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
      assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
    }
    String text = text(pdf);
    assertThat(text)
        .contains("Print ±50 g? Yes, after a one-point calibration. The data support ±34 g.")
        .contains(HASH)
        .contains("Lotproof 1.2.3")
        .contains("measured 2026-09-07 to 2026-09-14")
        .contains("Prepared, date")
        .contains("Checked, date")
        .contains("Approved, date")
        .contains("Not for trade, medical use, dosing or lifting");
    Level leading = report.levels().stream().filter(Level::leading).findFirst().orElseThrow();
    leading.risks().forEach(risk -> assertThat(text).contains(risk.lead()));
    leading.product().forEach(words -> assertThat(text).contains(words));
  }

  @Test
  void itsFiguresAreThoseOfTheResult() throws IOException {
    StudyResult result = DemoResult.get();
    ByteArrayOutputStream json = new ByteArrayOutputStream();
    ResultJson.write(result, json);
    String text = text(written(StudyReport.of(result, HASH, "1.2.3"), Paper.A4));
    JsonNode claims = new ObjectMapper().readTree(json.toByteArray()).at("/asDecided/claims");
    assertThat(claims).hasSize(3);
    for (JsonNode claim : claims) {
      JsonNode wanted = claim.path("wanted");
      assertThat(text)
          .contains(
              "±"
                  + wanted.path("wantedGrams").asInt()
                  + " g "
                  + (wanted.path("supported").asBoolean() ? "supported" : "not supported")
                  + " ±"
                  + claim.at("/outcome/printableGrams").asInt()
                  + " g "
                  + Math.round(
                      100
                          * claim.at("/outcome/limitGrams").asDouble()
                          / wanted.path("wantedGrams").asDouble())
                  + " %");
    }
  }

  @Test
  void twoRunsGiveEqualBytes() throws IOException {
    Report report = StudyReport.of(DemoResult.get(), HASH, "1.2.3");
    assertThat(written(report, Paper.A4)).isEqualTo(written(report, Paper.A4));
  }

  @Test
  void itsPaperIsReadFromTheFile() throws IOException {
    Report report = StudyReport.of(DemoResult.get(), HASH, "1.2.3");
    for (Paper paper : Paper.values()) {
      Path file = Files.write(folder.resolve(paper + ".pdf"), written(report, paper));
      assertThat(SummaryWriter.paper(file)).isEqualTo(paper);
    }
    assertThat(SummaryWriter.paper(Files.writeString(folder.resolve("no.pdf"), "none")))
        .isEqualTo(Paper.A4);
    assertThat(SummaryWriter.paper(folder.resolve("missing.pdf"))).isEqualTo(Paper.A4);
  }

  @Test
  void hostileWordsStayWords() throws IOException {
    String title =
        "<b onclick='x'>&amp; =1+1 \u001b[31m \uD83D\uDC1D серийный " + "long ".repeat(60);
    Report report = StudyReport.of(DemoResult.get(), HASH, "1.2.3");
    Identity identity =
        new Identity(
            title, title, title, title, OptionalLong.of(1), title, List.of(title), List.of());
    byte[] pdf =
        written(
            new Report(identity, report.verdict(), report.levels(), report.sections()), Paper.A4);
    assertThat(text(pdf)).contains("<b onclick='x'>&amp; =1+1").contains("The data support ±34 g.");
  }

  private static byte[] written(Report report, Paper paper) {
    MemorySink sink = new MemorySink();
    new SummaryWriter(paper).write(report, sink);
    return sink.files().get(SummaryWriter.FILE);
  }

  /** The text of a document with single blanks. */
  private static String text(byte[] pdf) throws IOException {
    try (PDDocument document = Loader.loadPDF(pdf)) {
      PDFTextStripper stripper = new PDFTextStripper();
      stripper.setSortByPosition(false);
      return stripper.getText(document).replaceAll("[\\s\\u00a0\\u202f\\u2009]+", " ");
    }
  }
}
