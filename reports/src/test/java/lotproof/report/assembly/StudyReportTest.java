package lotproof.report.assembly;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.List;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.report.MemorySink;
import lotproof.report.Recalculated;
import lotproof.report.ReportWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.model.Cell;
import lotproof.report.model.Headline;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import org.junit.jupiter.api.Test;

/** The demo study's result as a report. */
class StudyReportTest {
  private static final Report REPORT = StudyReport.of(DemoResult.get(), "0".repeat(64), "test");

  @Test
  void leadsWithAFigureThatTheStudySupports() {
    Headline.Supported figure = (Headline.Supported) REPORT.headline().figure();
    List<Double> supported =
        DemoResult.get().asDecided().claims().stream()
            .flatMap(c -> c.figure().stream())
            .map(f -> f.printableGrams())
            .toList();
    assertThat(supported).contains(figure.amount().value());
    assertThat(REPORT.headline().claimSentence()).contains("confidence", "% of kits");
  }

  @Test
  void showsEveryFigureWithAndWithoutExclusions() {
    StudyResult result = DemoResult.get();
    Table figures = REPORT.table("figures").orElseThrow();
    assertThat(figures.rows()).hasSameSizeAs(result.asDecided().claims());
    for (int i = 0; i < figures.rows().size(); i++) {
      LevelClaim without = result.comparison().claims().get(i);
      Cell cell = figures.rows().get(i).cells().get(figures.columnIndex("exclusions-left-in"));
      assertThat(cell.number().orElseThrow())
          .isEqualTo(without.figure().orElseThrow().printableGrams());
    }
  }

  @Test
  void formulasGiveTheProgramsOwnNumbers() throws IOException {
    MemorySink sink = new MemorySink();
    new WorkbookWriter().write(REPORT, sink);
    assertThat(Recalculated.formulas(sink.bytes("report.xlsx"))).isGreaterThan(3000);
  }

  @Test
  void cautionsAndExclusionsStandInEveryReport() {
    MemorySink sink = new MemorySink();
    new TextWriter().write(REPORT, sink);
    new PageWriter().write(REPORT, sink);
    for (String name : List.of("report.txt", "report.html")) {
      String text = sink.text(name).replaceAll("\\s+", " ");
      assertThat(text).contains("Not for trade", "Not for lifting", "bench damage");
      DemoResult.get().excluded().forEach(e -> assertThat(text).contains(e.decision().serial()));
    }
  }

  @Test
  void twoRunsGiveTheSameBytes() {
    for (ReportWriter writer :
        List.of(new TextWriter(), new PageWriter(), new CsvWriter(), new WorkbookWriter())) {
      MemorySink first = new MemorySink();
      MemorySink second = new MemorySink();
      writer.write(REPORT, first);
      writer.write(REPORT, second);
      assertThat(first.files().keySet()).isEqualTo(second.files().keySet());
      first
          .files()
          .forEach((name, bytes) -> assertThat(second.bytes(name)).as(name).isEqualTo(bytes));
    }
  }
}
