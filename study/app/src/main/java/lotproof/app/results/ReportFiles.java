package lotproof.app.results;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentSkipListMap;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.page.PageWriter;
import lotproof.report.text.TextWriter;
import lotproof.report.workbook.WorkbookWriter;
import lotproof.work.Parallel;
import org.jspecify.annotations.Nullable;

/** The files of a report: written, and held against what the record gives today. */
final class ReportFiles {
  static final String ORIGIN_NAME = "origin.json";

  private ReportFiles() {}

  /** What a report was made from, and the files that were made: its origin.json. */
  record MadeFrom(
      String title, String recordHash, String version, long seed, List<WrittenFile> files) {
    MadeFrom {
      files = List.copyOf(files);
    }
  }

  /** A file with the SHA-256 of its bytes. */
  record WrittenFile(String name, String sha256) {}

  /** A file of a report, and how it stands. */
  record CheckedFile(String name, Standing standing) {}

  /** How a file of a report stands. */
  enum Standing {
    SAME("holds"),
    ALTERED("was altered after it was written"),
    DIFFERENT("is no longer what the record gives"),
    MISSING("is missing"),
    ALIEN("does not belong to the report");

    final String words;

    Standing(String words) {
      this.words = words;
    }
  }

  /**
   * Writes all of them. The writers work in parallel, each file goes out as it is made.
   *
   * @return the hash of each, in the order in which a person looks at them
   */
  static Map<String, String> write(AnalysedStudy analysed, OutputSink sink) {
    ReportWriter result =
        (report, files) ->
            files.put("result.json", out -> ResultJson.write(analysed.result(), out));
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
    List<WrittenFile> files = new ArrayList<>();
    new TreeMap<>(all).forEach((name, hash) -> files.add(new WrittenFile(name, hash)));
    MadeFrom origin =
        new MadeFrom(
            analysed.contents().study().title(),
            analysed.contents().recordHash(),
            Origin.programVersion(),
            analysed.contents().study().seed(),
            files);
    hashing(sink, all).put(ORIGIN_NAME, out -> ResultJson.write(origin, out));
    return all;
  }

  /** Passes files on and keeps their hashes. */
  private static OutputSink hashing(OutputSink sink, Map<String, String> hashes) {
    return (name, content) -> sink.put(name, out -> hashes.put(name, hash(content, out)));
  }

  /** SHA-256 of what is written on. */
  private static String hash(OutputSink.Content content, OutputStream out) throws IOException {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      content.writeTo(new DigestOutputStream(out, digest));
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java knows SHA-256", e);
    }
  }

  /** Reads where a report came from; ends the command where a folder holds none. */
  static MadeFrom origin(Path folder) {
    Path file = folder.resolve(ORIGIN_NAME);
    if (!Files.isRegularFile(file)) {
      String why =
          Files.isDirectory(folder)
              ? " is not a report: it holds no " + ORIGIN_NAME
              : Files.exists(folder) ? " is a file; name the report's folder" : " is not there";
      throw new UnusableException("--verify " + folder + why);
    }
    try {
      return new ObjectMapper().readValue(file.toFile(), MadeFrom.class);
    } catch (JsonProcessingException e) {
      var place = e.getLocation();
      String where = place == null ? "" : ":" + place.getLineNr() + ":" + place.getColumnNr();
      throw new UnusableException(file + where + ": this does not say where a report came from");
    } catch (IOException e) {
      throw new UnusableException(file + " cannot be read: " + e.getMessage());
    }
  }

  /** Every file of a report that was written earlier, beside what the record gives today. */
  static List<CheckedFile> checked(AnalysedStudy analysed, Path folder, MadeFrom before) {
    OutputSink nowhere =
        (name, content) -> {
          try {
            content.writeTo(OutputStream.nullOutputStream());
          } catch (IOException e) {
            throw new UncheckedIOException("cannot compute " + name, e);
          }
        };
    Map<String, String> written = new LinkedHashMap<>();
    before.files.forEach(file -> written.put(file.name, file.sha256));
    Map<String, String> today = new TreeMap<>(write(analysed, nowhere));
    List<CheckedFile> files = new ArrayList<>();
    today.forEach(
        (name, hash) ->
            files.add(
                new CheckedFile(name, standing(folder.resolve(name), written.get(name), hash))));
    written.keySet().stream()
        .filter(name -> !today.containsKey(name))
        .forEach(name -> files.add(new CheckedFile(name, Standing.DIFFERENT)));
    return files;
  }

  private static Standing standing(Path place, @Nullable String writtenHash, String today) {
    if (!Files.isRegularFile(place)) {
      return Standing.MISSING;
    }
    String found;
    try (InputStream in = Files.newInputStream(place)) {
      found = hash(in::transferTo, OutputStream.nullOutputStream());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + place, e);
    }
    if (found.equals(today)) {
      return Standing.SAME;
    } else if (place.endsWith(ORIGIN_NAME) || found.equals(writtenHash)) {
      return Standing.DIFFERENT;
    }
    return writtenHash == null ? Standing.ALIEN : Standing.ALTERED;
  }

  /** Why a report no longer holds, as far as its origin tells. */
  static List<String> reasons(AnalysedStudy analysed, MadeFrom before) {
    List<String> reasons = new ArrayList<>();
    String hash = analysed.contents().recordHash();
    if (!hash.equals(before.recordHash)) {
      reasons.add(
          "the study folder has changed: the report was made from the record "
              + shortened(before.recordHash)
              + ", the folder now holds "
              + shortened(hash));
    }
    if (!Origin.programVersion().equals(before.version)) {
      reasons.add(
          "the report was made by version "
              + before.version
              + " of the program, this is "
              + Origin.programVersion());
    }
    return reasons;
  }

  private static String shortened(String hash) {
    return hash.length() > 12 ? hash.substring(0, 12) : hash;
  }
}
