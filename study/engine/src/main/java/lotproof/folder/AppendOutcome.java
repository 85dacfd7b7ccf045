package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of adding a file's readings to the record. */
public sealed interface AppendOutcome {

  /** All readings are in the record and the original file is kept. */
  record Appended(int readings, List<DataIssue> warnings) implements AppendOutcome {
    public Appended {
      warnings = List.copyOf(warnings);
    }
  }

  /**
   * The record already holds readings from a file with exactly these bytes; nothing was changed.
   *
   * @param file the name under which it was imported
   * @param readings how many readings of it the record holds
   */
  record AlreadyThere(String file, int readings) implements AppendOutcome {}

  /** Nothing was kept; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements AppendOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
