package lotproof.folder;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Study;

/** The directory that holds one study. */
@SuppressWarnings("DoNotCallSuggester")
public final class StudyFolder {
  private final Path root;

  private StudyFolder(Path root) {
    this.root = root;
  }

  /** The folder at this path, which need not exist yet. */
  public static StudyFolder at(Path root) {
    return new StudyFolder(root);
  }

  /** Where it is. */
  public Path root() {
    return root;
  }

  /** Reads and checks all of it. */
  public OpenOutcome open() {
    throw new UnsupportedOperationException("being built");
  }

  /** Writes study.yaml into a folder that has none; the issues say why not, empty when written. */
  public List<DataIssue> create(Study study) {
    throw new UnsupportedOperationException("being built " + study);
  }

  /** Adds all readings of a file, or none. */
  public AppendOutcome append(ReceivedFile file, Function<StudyContents, Batch> reader) {
    throw new UnsupportedOperationException("being built " + file + reader);
  }

  /** Adds a decision; its line is given by the folder. */
  public DecisionOutcome decide(Decision decision) {
    throw new UnsupportedOperationException("being built " + decision);
  }
}
