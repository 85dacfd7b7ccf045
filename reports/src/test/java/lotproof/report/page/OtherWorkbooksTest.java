package lotproof.report.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.report.MemorySink;
import lotproof.report.Recalculated;
import lotproof.report.assembly.DemoResult;
import lotproof.report.assembly.StudyReport;
import lotproof.report.assembly.StudyWorkbook;
import lotproof.report.model.Cell;
import lotproof.report.model.Workbook;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Workbooks of studies unlike the demo. */
class OtherWorkbooksTest {
  private static final Path DEMO = Path.of("..", "demo-data", "hive-scale");

  private static Workbook of(StudyResult result) {
    return StudyWorkbook.of(result, StudyReport.of(result, "0".repeat(64), "test"));
  }

  private static byte[] written(Workbook workbook) {
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(workbook, sink);
    return sink.bytes("report.xlsx");
  }

  private static String verdict(Workbook workbook) {
    return ((Cell.Text) workbook.summary().verdict()).text();
  }

  @Test
  void ofBoardsAloneAndOfNothingSupported() throws IOException {
    Workbook boards =
        of(DemoResult.with(study -> DemoResult.claiming(study, ClaimRequest.Subject.BOARD, 50)));
    assertThat(verdict(boards)).startsWith("Print ±50 g after a one-point calibration? ");
    assertThat(Recalculated.formulas(written(boards))).isPositive();
    Workbook nothing =
        of(DemoResult.with(study -> DemoResult.claiming(study, ClaimRequest.Subject.KIT, 3)));
    assertThat(verdict(nothing))
        .isEqualTo("Print ±3 g after a one-point calibration? No. The data support ±34 g.");
    assertThat(Recalculated.formulas(written(nothing))).isPositive();
  }

  @Test
  void withoutARunThatCountsThereIsNoVerdict() throws IOException {
    StudyContents contents = StudyFolder.at(DEMO).open().get();
    StudyResult result =
        new StudyAnalysis(contents.study())
            .analyse(contents.readings().subList(0, 9), contents.decisions());
    Workbook workbook = of(result);
    assertThat(verdict(workbook)).isEqualTo("No figure is supported without calibration.");
    assertThat(Recalculated.formulas(written(workbook))).isPositive();
  }

  @Test
  @Tag("slow")
  @Tag("slow")
  void ofThreeHundredUnitsIsWrittenInSeconds() throws IOException {
    Study demo = DemoResult.study();
    InventedStudy invented = InventedStudy.of(demo, 300, 5);
    StudyResult result =
        new StudyAnalysis(invented.study()).analyse(invented.readings(), List.of());
    long start = System.nanoTime();
    byte[] bytes = written(of(result));
    Duration took = Duration.ofNanos(System.nanoTime() - start);
    assertThat(took).isLessThan(Duration.ofSeconds(30));
    assertThat(Recalculated.formulas(bytes)).isGreaterThan(3000);
  }
}
