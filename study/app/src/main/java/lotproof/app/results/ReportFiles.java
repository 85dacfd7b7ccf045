package lotproof.app.results;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import lotproof.app.cli.Origin;
import lotproof.app.cli.OutputFolder;
import lotproof.app.cli.OutputFolder.Manifest;
import lotproof.app.cli.UnusableException;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.assembly.PublishedResult;
import lotproof.report.assembly.StudyWorkbook;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.page.PageWriter;
import lotproof.report.summary.Paper;
import lotproof.report.summary.SummaryWriter;
import lotproof.report.text.SanitizedText;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.study.DataIssue;
import lotproof.work.Parallel;
import org.jspecify.annotations.Nullable;

/** The files of a report: written, and held against what the record gives today. */
final class ReportFiles {
  /** What origin.json says that made them. */
  static final String COMMAND = "report";

  private ReportFiles() {}

  /** A file of a report, or an original of its record, and how it stands. */
  record CheckedFile(String name, Standing standing) {}

  /** How a file of a report stands. */
  enum Standing {
    SAME("holds"),
    ALTERED("was altered after it was written"),
    DIFFERENT("is no longer what the record gives"),
    MISSING("is missing"),
    ALIEN("does not belong to the report"),
    STALE("belongs to an earlier report"),
    NO_ORIGINAL("is missing: the record was taken from it");

    final String words;

    Standing(String words) {
      this.words = words;
    }
  }

  /** Writes all of them. The writers work in parallel, each file goes out as it is made. */
  static OutputFolder.Writer writer(AnalysedStudy analysed, Paper paper) {
    ReportWriter result =
        (report, files) ->
            files.put(
                "result.json", out -> ResultJson.write(PublishedResult.of(analysed.result()), out));
    ReportWriter workbook =
        (report, files) -> WorkbookWriter.write(StudyWorkbook.of(analysed.result(), report), files);
    List<ReportWriter> writers =
        List.of(
            workbook,
            new PageWriter(),
            new TextWriter(),
            new CsvWriter(),
            result,
            new SummaryWriter(paper),
            new ChartFilesWriter());
    return sink ->
        Parallel.map(
            writers,
            writer -> {
              writer.write(analysed.report(), sink);
              return writer;
            });
  }

  /** Reads where a report came from; ends the command where a folder holds none. */
  static Manifest origin(Path folder) {
    if (!Files.isRegularFile(folder.resolve(OutputFolder.MANIFEST))) {
      String why =
          Files.isDirectory(folder)
              ? " is not a report: it holds no " + OutputFolder.MANIFEST
              : Files.exists(folder) ? " is a file; name the report's folder" : " is not there";
      throw new UnusableException("--verify " + folder + why);
    }
    return OutputFolder.manifest(folder);
  }

  /**
   * Every file of a report that was written earlier, and everything else in its folder, beside what
   * the record gives today.
   */
  static List<CheckedFile> checked(AnalysedStudy analysed, Path folder, Manifest before) {
    OutputSink nowhere =
        (name, content) -> {
          try {
            content.writeTo(OutputStream.nullOutputStream());
          } catch (IOException e) {
            throw new UncheckedIOException("cannot compute " + name, e);
          }
        };
    Map<String, String> written = before.hashes();
    Map<String, String> today =
        OutputFolder.write(
            Manifest.of(COMMAND, analysed.contents()),
            writer(analysed, SummaryWriter.paper(folder.resolve(SummaryWriter.FILE))),
            nowhere);
    Set<String> names = new TreeSet<>(today.keySet());
    names.addAll(OutputFolder.files(folder));
    List<CheckedFile> files = new ArrayList<>();
    for (String name : names) {
      String found = OutputFolder.hashOf(folder.resolve(name));
      files.add(
          new CheckedFile(
              SanitizedText.clean(name),
              standing(name, found, written.get(name), today.get(name))));
    }
    return files;
  }

  /** Originals that the record names and captures/ no longer holds. */
  static List<CheckedFile> missingOriginals(AnalysedStudy analysed) {
    return analysed.contents().warnings().stream()
        .filter(issue -> issue.code() == DataIssue.Code.FILE_MISSING)
        .map(issue -> new CheckedFile(issue.file(), Standing.NO_ORIGINAL))
        .toList();
  }

  private static Standing standing(
      String name, String found, @Nullable String written, @Nullable String today) {
    if (found.isEmpty()) {
      return Standing.MISSING;
    } else if (found.equals(today)) {
      return Standing.SAME;
    } else if (today == null) {
      return found.equals(written) ? Standing.STALE : Standing.ALIEN;
    } else if (found.equals(written) || name.equals(OutputFolder.MANIFEST)) {
      return Standing.DIFFERENT;
    }
    return written == null ? Standing.ALIEN : Standing.ALTERED;
  }

  /** Why a report no longer holds, as far as its origin tells. */
  static List<String> reasons(AnalysedStudy analysed, Manifest before) {
    List<String> reasons = new ArrayList<>();
    String hash = analysed.contents().recordHash();
    if (!hash.equals(before.recordHash())) {
      reasons.add(
          "the study folder has changed: the report was made from the record "
              + SanitizedText.clean(shortened(before.recordHash()))
              + ", the folder now holds "
              + shortened(hash));
    }
    if (!Origin.programVersion().equals(before.version())) {
      reasons.add(
          "the report was made by version "
              + SanitizedText.clean(before.version())
              + " of the program, this is "
              + Origin.programVersion());
    }
    return reasons;
  }

  private static String shortened(String hash) {
    return hash.length() > 12 ? hash.substring(0, 12) : hash;
  }
}
