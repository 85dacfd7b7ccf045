package lotproof.folder;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
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
    Set<Provenance> sources = new LinkedHashSet<>();
    readings.forEach(r -> sources.add(new Provenance(r.source().file(), r.source().sha256(), 1)));
    series.forEach(s -> sources.add(new Provenance(s.file(), s.sha256(), 1)));
    List<DataIssue> issues = new ArrayList<>();
    for (Provenance source : sources) {
      String place = place(source.file(), source.sha256());
      try {
        if (!Sha256.of(Files.readAllBytes(root.resolve(place))).equals(source.sha256())) {
          String message =
              "the file was changed: its bytes no longer have the hash in its name; "
                  + RecordText.ADVICE;
          issues.add(FolderFaults.issue(Code.RECORD_DAMAGED, place, message));
        }
      } catch (NoSuchFileException e) {
        String message =
            "the original of "
                + source.file()
                + " is not there; what came from it cannot be traced beyond the record";
        issues.add(DataIssue.warning(Code.FILE_MISSING, place, 0, "", "", message));
      }
    }
    return issues;
  }
}
