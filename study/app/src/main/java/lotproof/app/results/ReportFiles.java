package lotproof.app.results;

import java.security.DigestOutputStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.concurrent.ConcurrentSkipListMap;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.work.Parallel;

/**
 * All files of a report.
 *
 * @param hashes SHA-256 of each file's bytes, in the order in which a person looks at them
 * @param origin what they were made from
 */
record ReportFiles(Map<String, String> hashes, ReportOrigin origin) {
  static final String ORIGIN_NAME = "origin.json";
  private static final String RESULT_NAME = "result.json";

  /** Writes all of them. The writers work in parallel, each file goes out as it is made. */
  static ReportFiles write(AnalysedStudy analysed, OutputSink sink) {
    ReportWriter result =
        (report, files) -> files.put(RESULT_NAME, out -> ResultJson.write(analysed.result(), out));
    List<ReportWriter> writers =
        List.of(
            new WorkbookWriter(),
            new PageWriter(),
            new TextWriter(),
            new CsvWriter(),
            result,
            new ChartFilesWriter());
    List<SortedMap<String, String>> hashes =
        Parallel.map(
            writers,
            writer -> {
              SortedMap<String, String> own = new ConcurrentSkipListMap<>();
              writer.write(analysed.report(), hashing(sink, own));
              return own;
            });
    Map<String, String> all = new LinkedHashMap<>();
    hashes.forEach(all::putAll);
    ReportOrigin origin = ReportOrigin.of(analysed, all);
    hashing(sink, all).put(ORIGIN_NAME, out -> ResultJson.write(origin, out));
    return new ReportFiles(all, origin);
  }

  /** Passes files on and keeps their hashes. */
  private static OutputSink hashing(OutputSink sink, Map<String, String> hashes) {
    return (name, content) ->
        sink.put(
            name,
            out -> {
              DigestOutputStream digested = new DigestOutputStream(out, ReportOrigin.digest());
              content.writeTo(digested);
              hashes.put(name, ReportOrigin.hash(digested.getMessageDigest()));
            });
  }
}
