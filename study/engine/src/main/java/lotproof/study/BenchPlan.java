package lotproof.study;

import java.util.List;

/**
 * What was planned for the bench: times, what was assumed, and every run in order.
 *
 * @param design the design in words
 * @param times what the bench takes
 * @param assumed what the plan took to be true
 * @param runs all runs in bench order, the check standard's included; names differ
 */
public record BenchPlan(
    String design, BenchTimes times, AssumedSpread assumed, List<PlannedRun> runs) {
  public BenchPlan {
    runs = List.copyOf(runs);
    Require.distinct(runs.stream().map(PlannedRun::run).toList(), "run names of the plan");
  }
}
