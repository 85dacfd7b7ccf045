package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.Reading;

/**
 * What one received file gives.
 *
 * @param readings its readings, in file order
 * @param issues what was found; one error keeps all readings out
 */
public record Batch(List<Reading> readings, List<DataIssue> issues) {
  public Batch {
    readings = List.copyOf(readings);
    issues = List.copyOf(issues);
  }
}
