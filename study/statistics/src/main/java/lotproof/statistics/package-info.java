/**
 * The mathematics of lots and claims: intervals, tests and fits that know nothing of load cells,
 * files or reports.
 *
 * <p>How far do readings of future kits reach, when four cells were each read on two of four
 * boards, twice?
 *
 * <pre>{@code
 * List<String> cells = List.of("a", "a", "a", "a", "b", "b", "b", "b", "c", "c", "c", "c", "d", "d", "d", "d");
 * List<String> boards = List.of("1", "1", "2", "2", "2", "2", "3", "3", "3", "3", "4", "4", "4", "4", "1", "1");
 * double[] errors = {3.1, 2.9, 4.4, 4.6, 1.2, 1.1, 0.3, 0.5, -2.2, -2.1, -1.0, -0.8, 0.9, 1.2, -0.4, -0.1};
 * Component cell = new Component("cell");
 * Component board = new Component("board");
 * Observations observations =
 *     new Observations(errors, List.of(RandomFactor.of(cell, cells), RandomFactor.of(board, boards)));
 * if (ComponentsFitter.fit(observations, FitOptions.REML) instanceof ComponentsFit fit) {
 *   double cellSd = Math.sqrt(fit.variance(cell));
 *   FutureUnitLimits limits = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95);
 *   double within = limits.symmetricHalfWidth();
 * }
 * }</pre>
 *
 * <p>Arguments are checked: a mistake of the caller throws an IllegalArgumentException that names
 * it. What data cannot answer is a value, {@link
 * lotproof.statistics.components.FitOutcome.NotEstimable}.
 */
@NullMarked
package lotproof.statistics;

import org.jspecify.annotations.NullMarked;
