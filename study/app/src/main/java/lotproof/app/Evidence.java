package lotproof.app;

import java.security.DigestOutputStream;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.ConcurrentSkipListSet;
import java.util.stream.Stream;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.work.Parallel;

/** All files of a report. */
final class Evidence {
  static final String RESULT_NAME = "result.json";
  static final String ORIGIN_NAME = "origin.json";

  private Evidence() {}

  /**
   * What was written.
   *
   * @param names the files in the order in which a person looks at them
   * @param hashes SHA-256 of each file's bytes
   */
  record Written(List<String> names, SortedMap<String, String> hashes) {}

  /** Writes all of them. The writers work side by side, each file goes out as it is made. */
  static Written write(AnalysedStudy analysed, OutputSink sink) {
    SortedMap<String, String> hashes = new ConcurrentSkipListMap<>();
    ReportWriter workbook = new WorkbookWriter();
    ReportWriter page = new PageWriter();
    ReportWriter text = new TextWriter();
    ReportWriter tables = new CsvWriter();
    ReportWriter result =
        (report, files) -> files.put(RESULT_NAME, out -> ResultJson.write(analysed.result(), out));
    ReportWriter charts = new ChartFilesWriter();
    // the two that take longest begin; the charts, which both cores can share, are left for the end
    Map<ReportWriter, Set<String>> written = new ConcurrentHashMap<>();
    Parallel.map(
        List.of(workbook, charts, text, tables, result, page),
        writer -> {
          Set<String> own = new ConcurrentSkipListSet<>();
          writer.write(analysed.report(), hashing(sink, hashes, own));
          written.put(writer, own);
          return own;
        });
    Set<String> last = new ConcurrentSkipListSet<>();
    ReportOrigin origin = ReportOrigin.of(analysed, hashes);
    hashing(sink, hashes, last).put(ORIGIN_NAME, out -> ResultJson.write(origin, out));
    Stream<Set<String>> named =
        Stream.of(workbook, page, text, tables, result, charts).map(written::get);
    return new Written(Stream.concat(named, Stream.of(last)).flatMap(Set::stream).toList(), hashes);
  }

  /** Passes files on and keeps their hashes. */
  private static OutputSink hashing(
      OutputSink sink, Map<String, String> hashes, Set<String> names) {
    return (name, content) -> {
      names.add(name);
      sink.put(
          name,
          out -> {
            DigestOutputStream digested = new DigestOutputStream(out, ReportOrigin.digest());
            content.writeTo(digested);
            hashes.put(name, ReportOrigin.hash(digested.getMessageDigest()));
          });
    };
  }
}
