package lotproof.gather;

import java.nio.file.Path;
import lotproof.folder.StudyFolder;

/** Takes a file into a study folder, all of it or nothing. */
public final class Importer {
  private Importer() {}

  /** Imports a file; a second import of the same bytes is recognised. */
  @SuppressWarnings("DoNotCallSuggester")
  public static ImportOutcome importFile(StudyFolder folder, Path file, TableReaders readers) {
    throw new UnsupportedOperationException("being built " + file);
  }

  /** What {@link #importFile} would do. */
  @SuppressWarnings("DoNotCallSuggester")
  public static Preview preview(StudyFolder folder, Path file, TableReaders readers) {
    throw new UnsupportedOperationException("being built " + file);
  }
}
