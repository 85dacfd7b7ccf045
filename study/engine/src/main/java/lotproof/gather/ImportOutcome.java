package lotproof.gather;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of importing a file. */
public sealed interface ImportOutcome {

  /**
   * All its readings are in the record.
   *
   * @param readings how many were added
   * @param recognised how many the record held already, with the same values
   * @param sha256 hash of the file, under which captures/ keeps it
   * @param warnings what a person should know
   */
  record Imported(int readings, int recognised, String sha256, List<DataIssue> warnings)
      implements ImportOutcome {
    public Imported {
      warnings = List.copyOf(warnings);
    }
  }

  /** Nothing was kept; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements ImportOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }

  /**
   * The record holds this very file already, or all of its readings with the same values; nothing
   * was changed.
   *
   * @param readings how many readings of it the record holds
   * @param sha256 hash of the file
   * @param note says under which name it was imported
   */
  record AlreadyImported(int readings, String sha256, DataIssue note) implements ImportOutcome {}
}
