package lotproof.folder;

import lotproof.study.Study;

/** study.yaml: text to definition and back. */
public final class StudyFile {
  /** Its name in the study folder. */
  public static final String NAME = "study.yaml";

  private StudyFile() {}

  /** Reads a definition; every problem is an issue with line and column. */
  @SuppressWarnings("DoNotCallSuggester")
  public static StudyOutcome read(String fileName, byte[] content) {
    throw new UnsupportedOperationException("being built " + fileName + content.length);
  }

  /** The definition as text that {@link #read} turns into the same definition. */
  @SuppressWarnings("DoNotCallSuggester")
  public static String write(Study study) {
    throw new UnsupportedOperationException("being built " + study);
  }
}
