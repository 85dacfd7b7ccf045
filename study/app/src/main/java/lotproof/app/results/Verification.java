package lotproof.app.results;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lotproof.app.cli.UnusableException;
import lotproof.report.OutputSink;

/**
 * A report that was written earlier beside what the record gives today, file by file.
 *
 * @param holds whether every file is byte for byte what the record gives today
 * @param reasons why not, as far as the origins of both tell
 * @param files every file of either
 */
record Verification(boolean holds, List<String> reasons, List<CheckedFile> files) {

  /** How a file of a report stands. */
  enum Standing {
    SAME("holds"),
    ALTERED("was altered after it was written"),
    DIFFERENT("is no longer what the record gives"),
    MISSING("is missing"),
    ALIEN("does not belong to the report");

    private final String words;

    Standing(String words) {
      this.words = words;
    }

    String words() {
      return words;
    }
  }

  /** A file of a report. */
  record CheckedFile(String name, Standing standing) {}

  Verification {
    reasons = List.copyOf(reasons);
    files = List.copyOf(files);
  }

  static Verification of(AnalysedStudy analysed, Path folder) {
    ReportOrigin before = readOrigin(folder.resolve(ReportFiles.ORIGIN_NAME));
    ReportFiles today = ReportFiles.write(analysed, Verification::forgotten);
    Map<String, String> hashes = new TreeMap<>(today.hashes());
    List<CheckedFile> files = new ArrayList<>();
    hashes.forEach(
        (name, hash) ->
            files.add(
                new CheckedFile(name, standing(folder.resolve(name), before.hashOf(name), hash))));
    before.files().stream()
        .map(ReportOrigin.WrittenFile::name)
        .filter(name -> !hashes.containsKey(name))
        .forEach(name -> files.add(new CheckedFile(name, Standing.DIFFERENT)));
    boolean holds = files.stream().allMatch(file -> file.standing == Standing.SAME);
    return new Verification(holds, reasons(before, today.origin()), files);
  }

  private static List<String> reasons(ReportOrigin before, ReportOrigin now) {
    List<String> reasons = new ArrayList<>();
    if (!before.recordHash().equals(now.recordHash())) {
      reasons.add(
          "the study folder has changed: the report was made from the record "
              + shortened(before.recordHash())
              + ", the folder now holds "
              + shortened(now.recordHash()));
    }
    if (!before.version().equals(now.version())) {
      reasons.add(
          "the report was made by version "
              + before.version()
              + " of the program, this is "
              + now.version());
    }
    return reasons;
  }

  private static String shortened(String hash) {
    return hash.length() > 12 ? hash.substring(0, 12) : hash;
  }

  /** Of a file that is computed again its hash is enough. */
  private static void forgotten(String name, OutputSink.Content content) {
    try {
      content.writeTo(OutputStream.nullOutputStream());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot compute " + name, e);
    }
  }

  private static Standing standing(Path place, Optional<String> writtenHash, String today) {
    if (!Files.isRegularFile(place)) {
      return Standing.MISSING;
    }
    String found = ReportOrigin.hash(place);
    if (found.equals(today)) {
      return Standing.SAME;
    }
    boolean origin = ReportFiles.ORIGIN_NAME.equals(String.valueOf(place.getFileName()));
    if (!origin && writtenHash.isEmpty()) {
      return Standing.ALIEN;
    }
    return origin || found.equals(writtenHash.orElseThrow())
        ? Standing.DIFFERENT
        : Standing.ALTERED;
  }

  /** Ends the command where a folder holds no report. */
  static void mustBeReport(Path folder) {
    if (!Files.isRegularFile(folder.resolve(ReportFiles.ORIGIN_NAME))) {
      String why =
          Files.isDirectory(folder)
              ? " is not a report: it holds no " + ReportFiles.ORIGIN_NAME
              : Files.exists(folder) ? " is a file; name the report's folder" : " is not there";
      throw new UnusableException("--verify " + folder + why);
    }
  }

  private static ReportOrigin readOrigin(Path file) {
    try {
      return new ObjectMapper().readValue(file.toFile(), ReportOrigin.class);
    } catch (JsonProcessingException e) {
      var place = e.getLocation();
      String where = place == null ? "" : ":" + place.getLineNr() + ":" + place.getColumnNr();
      throw new UnusableException(file + where + ": this does not say where a report came from");
    } catch (IOException e) {
      throw new UnusableException(file + " cannot be read: " + e.getMessage());
    }
  }
}
