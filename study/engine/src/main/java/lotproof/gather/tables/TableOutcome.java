package lotproof.gather.tables;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of reading a file as a table. */
public sealed interface TableOutcome {

  /**
   * A table was found.
   *
   * @param issues trouble with single cells, errors and warnings
   */
  record Found(Table table, List<DataIssue> issues) implements TableOutcome {
    public Found {
      issues = List.copyOf(issues);
    }
  }

  /** No table could be made of it; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements TableOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
