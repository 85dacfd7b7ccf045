package lotproof.statistics.components;

import java.util.List;
import java.util.Set;

/**
 * How a fit was found, so that it can be judged and repeated.
 *
 * @param startVariances variances from which the kept solution was reached
 * @param endVariances variances of the solution, factors in order, then the residual
 * @param iterations accepted steps from the kept start
 * @param evaluations likelihood evaluations over all starts
 * @param startsTried number of starts
 * @param stoppingReason why the iteration ended
 * @param converged true when no step could improve the likelihood any more
 * @param atBoundary components whose estimate is zero because the likelihood falls from there
 */
public record FitRecord(
    List<Double> startVariances,
    List<Double> endVariances,
    int iterations,
    int evaluations,
    int startsTried,
    String stoppingReason,
    boolean converged,
    Set<String> atBoundary) {
  public FitRecord {
    startVariances = List.copyOf(startVariances);
    endVariances = List.copyOf(endVariances);
    atBoundary = Set.copyOf(atBoundary);
  }
}
