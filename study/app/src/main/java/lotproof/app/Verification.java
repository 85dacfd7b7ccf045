package lotproof.app;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import lotproof.report.OutputSink;

/**
 * Holds a report that was written earlier against what the record gives today, file by file.
 *
 * @param before what the report says it was made from
 * @param now what it would be made from today
 * @param files every file of either
 */
record Verification(ReportOrigin before, ReportOrigin now, List<CheckedFile> files) {

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
    files = List.copyOf(files);
  }

  /** True when every file is byte for byte what the record gives today. */
  boolean holds() {
    return files.stream().allMatch(file -> file.standing == Standing.SAME);
  }

  /** Why the report and today's differ, as far as their origins tell. */
  List<String> reasons() {
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

  static Verification of(AnalysedStudy analysed, Path folder) {
    ReportOrigin before = readOrigin(folder.resolve(Evidence.ORIGIN_NAME));
    SortedMap<String, String> today = Evidence.write(analysed, Verification::forgotten).hashes();
    ReportOrigin now = ReportOrigin.of(analysed, today);
    List<CheckedFile> files = new ArrayList<>();
    today.forEach(
        (name, hash) ->
            files.add(
                new CheckedFile(name, standing(folder.resolve(name), before.hashOf(name), hash))));
    before.files().stream()
        .map(ReportOrigin.WrittenFile::name)
        .filter(name -> !today.containsKey(name))
        .forEach(name -> files.add(new CheckedFile(name, Standing.DIFFERENT)));
    return new Verification(before, now, files);
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
    boolean origin = Evidence.ORIGIN_NAME.equals(String.valueOf(place.getFileName()));
    if (!origin && writtenHash.isEmpty()) {
      return Standing.ALIEN;
    }
    return origin || found.equals(writtenHash.orElseThrow())
        ? Standing.DIFFERENT
        : Standing.ALTERED;
  }

  /** Ends the command where a folder holds no report. */
  static void mustBeReport(Path folder) {
    if (!Files.isRegularFile(folder.resolve(Evidence.ORIGIN_NAME))) {
      String why =
          Files.isDirectory(folder)
              ? " is not a report: it holds no " + Evidence.ORIGIN_NAME
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

  /** The same as a message. */
  Messages.Verified message(AnalysedStudy analysed, int exit) {
    return new Messages.Verified(
        Messages.Origin.of("report", analysed, exit), holds(), reasons(), files);
  }
}
