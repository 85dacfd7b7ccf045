package lotproof.folder;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.KeptSeries;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/** The files as they were received, held against what the record says about them. */
final class Originals {
  private Originals() {}

  /** The place of the original of this name and hash, relative to the study folder. */
  static String place(String file, String sha256) {
    return StudyFolder.CAPTURES + "/" + ReceivedFile.captureName(file, sha256);
  }

  /** What is gone is a warning; what was changed is an error. */
  static List<DataIssue> check(Path root, List<Reading> readings, List<KeptSeries> series)
      throws IOException {
    // a set of hashes for each name: one file stands behind hundreds of readings
    Map<String, Set<String>> hashes = new LinkedHashMap<>();
    for (Reading reading : readings) {
      Provenance source = reading.source();
      hashes.computeIfAbsent(source.file(), f -> new LinkedHashSet<>()).add(source.sha256());
    }
    for (KeptSeries one : series) {
      hashes.computeIfAbsent(one.file(), f -> new LinkedHashSet<>()).add(one.sha256());
    }
    List<DataIssue> issues = new ArrayList<>();
    for (Map.Entry<String, Set<String>> file : hashes.entrySet()) {
      for (String sha256 : file.getValue()) {
        fault(root, file.getKey(), sha256).ifPresent(issues::add);
      }
    }
    return issues;
  }

  private static Optional<DataIssue> fault(Path root, String file, String sha256)
      throws IOException {
    String place = place(file, sha256);
    try {
      if (Sha256.of(Files.readAllBytes(root.resolve(place))).equals(sha256)) {
        return Optional.empty();
      }
      String message =
          "the file was changed: its bytes no longer have the hash in its name; "
              + RecordText.ADVICE;
      return Optional.of(FolderFaults.issue(Code.RECORD_DAMAGED, place, message));
    } catch (NoSuchFileException e) {
      String message =
          "the original of "
              + file
              + " is not there; what came from it cannot be traced beyond the record";
      return Optional.of(DataIssue.warning(Code.FILE_MISSING, place, 0, "", "", message));
    }
  }
}
