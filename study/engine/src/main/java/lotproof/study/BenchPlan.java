package lotproof.study;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What was planned for the bench: times, what was assumed, and every run in order.
 *
 * @param design the design in words
 * @param runs all runs in bench order, the check standard's included; names differ
 */
public record BenchPlan(String design, BenchTimes times, Assumed assumed, List<PlannedRun> runs) {
  public BenchPlan {
    runs = List.copyOf(runs);
    Require.distinct(runs.stream().map(PlannedRun::run).toList(), "run names of the plan");
  }

  /** The pairs of all runs but the check standard's, in the order of their first runs. */
  public List<Design.PlannedPair> pairs() {
    Map<List<String>, Integer> counts = new LinkedHashMap<>();
    for (PlannedRun run : runs) {
      if (!run.isCheck()) {
        counts.merge(List.of(run.cell(), run.board()), 1, Integer::sum);
      }
    }
    return counts.entrySet().stream()
        .map(
            pair ->
                new Design.PlannedPair(pair.getKey().get(0), pair.getKey().get(1), pair.getValue()))
        .toList();
  }
}
