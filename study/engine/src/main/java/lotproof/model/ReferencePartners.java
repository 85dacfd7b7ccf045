package lotproof.model;

import java.util.List;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.summary.Summary;
import lotproof.study.Design;

/**
 * Kits put together from cells that were measured on a reference board and boards that were
 * measured on a reference cell or dummy bridge: error of a virtual kit = error of the cell there +
 * error of the board there - error of the reference pair. Exact to first order in the errors.
 *
 * @param halves cells and boards
 * @param both runs of the reference pair
 */
public record ReferencePartners(List<ModelPart> halves, List<Integer> both) {
  /** Fewer runs of the reference pair do not show its own error, which enters every kit. */
  public static final int FEWEST_REFERENCE_RUNS = 2;

  public ReferencePartners {
    halves = List.copyOf(halves);
    both = List.copyOf(both);
  }

  /** Halves, or the reason why there are none. */
  public sealed interface Outcome {
    /** There are halves. */
    record Joined(ReferencePartners partners) implements Outcome {}

    /**
     * The reference pair, the cells on the reference board or the boards on the reference cell were
     * measured too rarely.
     */
    record NotJoined(int referenceRuns) implements Outcome {}
  }

  /**
   * Parts the runs of a study.
   *
   * @param labelled any values with the labels of all runs
   * @param weights how components enter a kit
   */
  public static Outcome of(
      Design.ReferencePartners reference,
      MeasuredValues labelled,
      BiFunction<FactorPlan, MeasuredValues, ComponentWeights> weights) {
    List<String> cellOf = labelled.labelsOf(Role.CELL).orElseThrow();
    List<String> boardOf = labelled.labelsOf(Role.BOARD).orElseThrow();
    IntPredicate onBoard = i -> boardOf.get(i).equals(reference.board());
    IntPredicate onCell = i -> cellOf.get(i).equals(reference.cell());
    List<Integer> both = indices(cellOf.size(), onBoard.and(onCell));
    List<Integer> cells = indices(cellOf.size(), onBoard.and(onCell.negate()));
    List<Integer> boards = indices(cellOf.size(), onCell.and(onBoard.negate()));
    if (both.size() < FEWEST_REFERENCE_RUNS || cells.size() < 2 || boards.size() < 2) {
      return new Outcome.NotJoined(both.size());
    }
    return new Outcome.Joined(
        new ReferencePartners(
            List.of(
                half(labelled, cells, Role.OF_BOARDS, weights),
                half(labelled, boards, Role.OF_CELLS, weights)),
            both));
  }

  private static List<Integer> indices(int runs, IntPredicate wanted) {
    return IntStream.range(0, runs).filter(wanted).boxed().toList();
  }

  private static ModelPart half(
      MeasuredValues labelled,
      List<Integer> kept,
      Set<Role> partners,
      BiFunction<FactorPlan, MeasuredValues, ComponentWeights> weights) {
    MeasuredValues values = labelled.select(kept).without(partners);
    FactorPlan plan = FactorPlan.of(values);
    return new ModelPart(kept, values, plan, weights.apply(plan, values));
  }

  /**
   * What the values of the runs make of the kits.
   *
   * <p>Bound without a model: the K-th largest over all virtual kits, K = floor(n / 4), n the
   * smaller count of units; its confidence (94.5 % and more where 95 % was asked) is simulated, not
   * a theorem. The uncertainty of the reference pair's own error is common to all kits, so twice
   * its standard error is a guard band.
   *
   * @param values of all runs, shifted by minus the mean of the reference pair
   * @param guardGrams twice the largest standard error of that mean
   * @param largest largest error of each virtual kit, ascending
   */
  @SuppressWarnings("ArrayRecordComponent") // compared by no one
  public record VirtualKits(CurveValues values, double guardGrams, double[] largest, int rank) {
    /** The K-th largest over the virtual kits. */
    public double boundGrams() {
      return largest[largest.length - rank];
    }
  }

  /**
   * The virtual kits; a repeat of a unit does not count.
   *
   * @param byPoint for each point one value for each run
   */
  public VirtualKits kits(double[][] byPoint, boolean sizes) {
    double[] shifts = new double[byPoint.length];
    double guard = 0;
    for (int p = 0; p < shifts.length; p++) {
      double[] own = ModelPart.pick(byPoint[p], both);
      shifts[p] = -Summary.mean(own);
      guard = Math.max(guard, 2 * Summary.sd(own) / Math.sqrt(own.length));
    }
    CurveValues values = new CurveValues(byPoint, shifts, sizes);
    List<Integer> cells = firstOfEach(halves.get(0), Role.CELL);
    List<Integer> boards = firstOfEach(halves.get(1), Role.BOARD);
    double[] largest =
        cells.stream()
            .flatMapToDouble(cell -> boards.stream().mapToDouble(b -> largest(values, cell, b)))
            .sorted()
            .toArray();
    int rank = Math.max(1, Math.min(cells.size(), boards.size()) / 4);
    return new VirtualKits(values, guard, largest, rank);
  }

  private static double largest(CurveValues values, int cellRun, int boardRun) {
    double most = 0;
    for (int p = 0; p < values.points(); p++) {
      double[] at = values.byPoint()[p];
      most = Math.max(most, values.counted(at[cellRun] + at[boardRun] + values.shifts()[p]));
    }
    return most;
  }

  private static List<Integer> firstOfEach(ModelPart half, Role role) {
    List<String> serials = half.labelled().labelsOf(role).orElseThrow();
    return IntStream.range(0, serials.size())
        .filter(i -> serials.indexOf(serials.get(i)) == i)
        .mapToObj(half.runs()::get)
        .toList();
  }
}
