package lotproof.folder;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;

/**
 * All that a study folder holds but the definition of the study, not yet held against it.
 *
 * @param batch the readings as recorded
 * @param decisions what was decided
 * @param series captures that were kept
 * @param issues what is wrong with the files, errors among them
 */
record RecordSnapshot(
    Batch batch, List<Decision> decisions, List<KeptSeries> series, List<DataIssue> issues) {

  /** Reads the bytes of the files and looks at the originals in the folder. */
  static RecordSnapshot read(Path root, byte[] readings, byte[] decisions, byte[] series)
      throws IOException {
    Batch batch = ReadingsFile.read(readings);
    List<DataIssue> issues = new ArrayList<>(batch.issues());
    List<Decision> decided = DecisionsFile.read(decisions, issues);
    List<KeptSeries> kept = History.SERIES.read(series, issues);
    issues.addAll(Originals.check(root, batch.readings(), kept));
    return new RecordSnapshot(batch, decided, kept, issues);
  }
}
