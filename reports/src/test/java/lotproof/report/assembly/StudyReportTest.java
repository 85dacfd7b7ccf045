package lotproof.report.assembly;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.List;
import lotproof.claim.FigureChange;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.TakenOut;
import lotproof.report.MemorySink;
import lotproof.report.Recalculated;
import lotproof.report.ReportWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Level;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.study.Decision;
import org.junit.jupiter.api.Test;

/** The demo study's result as a report. */
class StudyReportTest {
  private static final Report REPORT = StudyReport.of(DemoResult.get(), "0".repeat(64), "test");

  @Test
  void leadsWithAFigureThatTheStudySupports() {
    Level leading = REPORT.levels().stream().filter(Level::leading).findFirst().orElseThrow();
    List<String> supported =
        DemoResult.get().asDecided().claims().stream()
            .flatMap(c -> c.figure().stream().map(f -> c.form().words(f.printableGrams())))
            .toList();
    assertThat(supported).contains(leading.row().printable());
    assertThat(leading.sentence())
        .contains("within " + leading.row().printable(), "confidence", "% of kits");
  }

  @Test
  void showsEveryFigureWithAndWithoutExclusions() {
    StudyResult result = DemoResult.get();
    Table figures = REPORT.table("figures").orElseThrow();
    assertThat(figures.rows()).hasSameSizeAs(result.asDecided().claims());
    for (int i = 0; i < figures.rows().size(); i++) {
      LevelClaim without = result.comparison().claims().get(i);
      Cell cell =
          figures.rows().get(i).cells().get(figures.columnIndex("figure-with-exclusions-left-in"));
      assertThat(cell.number().orElseThrow())
          .isEqualTo(without.figure().orElseThrow().printableGrams());
    }
  }

  @Test
  void theVerdictIsASentenceAndTheLevelsStandBelowIt() {
    assertThat(REPORT.verdict().text())
        .isEqualTo("Print ±50 g? Yes, after a one-point calibration. The data support ±34 g.");
    assertThat(REPORT.levels().stream().map(Level::name))
        .containsExactly("No calibration", "One-point", "Two-point");
    assertThat(REPORT.levels().stream().filter(Level::leading)).hasSize(1);
    Level.Row twoPoint = REPORT.levels().get(2).row();
    assertThat(twoPoint.excludedIn()).isEqualTo("±25 g");
    assertThat(twoPoint.restsOnExclusions()).as("24.16 g of 25 g with the cell back in").isTrue();
    assertThat(REPORT.levels().get(1).row().restsOnExclusions()).isFalse();
  }

  @Test
  void whatCouldMakeItWrongIsRankedAndLeadsToItsEvidence() {
    List<String> twoPoint =
        REPORT.levels().get(2).risks().stream().map(risk -> risk.prose().text()).toList();
    assertThat(twoPoint.get(0))
        .isEqualTo(
            "A test of every board is part of the claim. It passes only: noise at most 0.6 g. 1 of"
                + " 50 boards failed.");
    assertThat(twoPoint.get(1))
        .startsWith("The margin rests on an exclusion. C2-0343 (bench damage), B3-0519")
        .contains("With them in: ±25 g");
    assertThat(twoPoint)
        .anyMatch(s -> s.startsWith("12 of 26 findings have no decision."))
        .anyMatch(s -> s.startsWith("The figure rests on a normal shape of the spread."))
        .anyMatch(s -> s.startsWith("Runs of the plan are missing."))
        .anyMatch(s -> s.startsWith("Measured only at 19.6 to 23.8 °C. Not measured: load off"));
    REPORT
        .levels()
        .forEach(
            level ->
                level
                    .risks()
                    .forEach(
                        risk ->
                            assertThat(REPORT.has(risk.more().evidence()))
                                .as(risk.lead())
                                .isTrue()));
  }

  @Test
  void whatAddsUpEndsAtThePrintableFigure() {
    for (Level level : REPORT.levels()) {
      Chart sum = level.charts().get(1);
      List<Chart.Point> to = sum.series().get(1).points();
      assertThat(sum.marks().get(0).value()).isCloseTo(to.get(to.size() - 1).x(), within(1e-9));
    }
  }

  @Test
  void extremesThatAreLeftOutAreCalledSoBesideTheVerdict() {
    StudyResult demo = DemoResult.get();
    List<FigureChange> changes =
        demo.changes().stream()
            .map(
                change ->
                    new FigureChange(
                        change.level(),
                        change.form(),
                        change.before(),
                        change.after(),
                        change.parts(),
                        change.removed(),
                        List.of(new TakenOut(Decision.Target.CELL, 5, 50, 5, 1 / 2118760.0))))
            .toList();
    List<Level> levels =
        LevelAssembly.of(
            new StudyResult(
                demo.study(),
                demo.runs(),
                demo.asDecided(),
                demo.withoutExclusions(),
                demo.excluded(),
                demo.decisions(),
                demo.findings(),
                demo.readings(),
                changes,
                demo.checkStandard(),
                demo.series(),
                demo.issues()));
    assertThat(levels)
        .allSatisfy(
            level ->
                assertThat(level.risks().stream().map(risk -> risk.prose().text()))
                    .anyMatch(
                        s ->
                            s.contains("C2-0343 (bench damage)")
                                && s.endsWith(
                                    "They are the extremes: 5 of 5 cells (chance 1 in 2100000).")));
  }

  @Test
  void formulasGiveTheProgramsOwnNumbers() throws IOException {
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(StudyWorkbook.of(DemoResult.get(), REPORT), sink);
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
        List.<ReportWriter>of(
            new TextWriter(),
            new PageWriter(),
            new CsvWriter(),
            (report, sink) ->
                WorkbookWriter.write(StudyWorkbook.of(DemoResult.get(), report), sink))) {
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
