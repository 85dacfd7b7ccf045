package lotproof.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.model.Report;
import lotproof.report.page.PageWriter;
import lotproof.report.summary.Paper;
import lotproof.report.summary.SummaryWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every writer is fed every report. */
class ReportWritersTest {
  /** A report with its name. */
  record Named(String name, Report report) {
    @Override
    public String toString() {
      return name;
    }
  }

  static Stream<Named> reports() {
    return Stream.of(
        new Named("full", SampleReport.full()), new Named("empty", HostileReport.empty()));
  }

  static Map<String, byte[]> written(Report report) {
    MemorySink sink = new MemorySink();
    List.of(
            new PageWriter(),
            new SummaryWriter(Paper.A4),
            new TextWriter(),
            new ChartFilesWriter(),
            new CsvWriter())
        .forEach(writer -> writer.write(report, sink));
    WorkbookWriter.write(TestWorkbooks.of(report), sink);
    return sink.files();
  }

  @ParameterizedTest
  @MethodSource("reports")
  void twoRunsGiveEqualBytes(Named named) {
    Map<String, byte[]> first = written(named.report());
    Map<String, byte[]> second = written(named.report());

    List<String> differing = new ArrayList<>();
    first.forEach(
        (name, bytes) -> {
          if (!Arrays.equals(bytes, second.get(name))) {
            differing.add(name);
          }
        });
    assertThat(second.keySet()).isEqualTo(first.keySet());
    assertThat(differing).isEmpty();
  }

  @Test
  @Tag("slow")
  void twoRunsGiveEqualBytesWhateverTheContent() {
    twoRunsGiveEqualBytes(new Named("hostile", HostileReport.full()));
  }

  @Test
  void everyTableAndChartHasItsFile() {
    Report report = SampleReport.full();
    Map<String, byte[]> files = new TreeMap<>(written(report));

    assertThat(files).containsKeys("report.html", "report.xlsx", "report.txt", "claim.txt");
    report.tables().forEach(t -> assertThat(files).containsKey("tables/" + t.id() + ".csv"));
    report
        .charts()
        .forEach(
            c ->
                assertThat(files)
                    .containsKeys(
                        "charts/" + c.caption().id() + ".svg",
                        "charts/" + c.caption().id() + ".png",
                        "tables/" + c.caption().id() + "-data.csv"));
  }
}
