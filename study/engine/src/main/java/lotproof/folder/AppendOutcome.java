package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of adding a file's readings to the record. */
public sealed interface AppendOutcome {

  /**
   * All readings are in the record and the original file is kept.
   *
   * @param readings how many were added
   * @param recognised how many the record held already, with the same values
   * @param warnings what a person should know
   */
  record Appended(int readings, int recognised, List<DataIssue> warnings) implements AppendOutcome {
    public Appended {
      warnings = List.copyOf(warnings);
    }
  }

  /**
   * The record already holds readings from a file with exactly these bytes, or all of its readings
   * with the same values; nothing was changed.
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
