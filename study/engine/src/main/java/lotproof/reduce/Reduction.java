package lotproof.reduce;

import java.util.List;
import lotproof.study.DataIssue;

/**
 * All runs of a study, reduced.
 *
 * @param runs runs that could be reduced, in study order
 * @param issues why the others could not
 */
public record Reduction(List<ReducedRun> runs, List<DataIssue> issues) {
  public Reduction {
    runs = List.copyOf(runs);
    issues = List.copyOf(issues);
  }
}
