package lotproof.folder;

import java.util.LinkedHashSet;
import java.util.Set;

/** Runs of a received file that wait for a decision. */
final class UndecidedRuns {
  private UndecidedRuns() {}

  /** The runs of which a file has readings that nobody has decided about. */
  static Set<String> of(ReceivedFile file, StudyContents contents) {
    Set<String> decided = Sources.decided(contents.decisions()).keySet();
    Set<String> runs = new LinkedHashSet<>();
    contents.beside().stream()
        .filter(r -> r.source().sha256().equals(file.sha256()) && !decided.contains(r.run()))
        .forEach(r -> runs.add(r.run()));
    return runs;
  }
}
