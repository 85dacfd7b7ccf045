package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.statistics.summary.Summary;
import lotproof.study.Design;
import lotproof.study.Study;

/**
 * Kits put together from cells that were measured on a reference board and boards that were
 * measured on a reference cell or dummy bridge: error of a virtual kit = error of the cell there +
 * error of the board there - error of the reference pair. Exact to first order in the errors.
 *
 * <p>Bound without a model: the K-th largest over all virtual kits, K = floor(n / 4), n the smaller
 * count of units; its confidence (94.5 % and more where 95 % was asked) is simulated, not a
 * theorem. The uncertainty of the reference pair's own error is common to all kits, so twice its
 * standard error is a guard band.
 *
 * @param halves cells and boards
 * @param shifts minus the mean of the reference pair, at each point
 * @param guardGrams twice the largest standard error of that mean
 * @param virtualLargest largest error of each virtual kit, ascending
 * @param rank K
 */
@SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
record ReferencePartners(
    List<ModelPart> halves,
    double[] shifts,
    double guardGrams,
    List<Double> virtualLargest,
    int rank) {
  private static final int FEWEST_REFERENCE_RUNS = 2;

  /** Halves, or the reason why there are none. */
  sealed interface Outcome {
    /** There are halves. */
    record Joined(ReferencePartners partners) implements Outcome {}

    /** There are none. */
    record NotJoined(String reason) implements Outcome {}
  }

  static Outcome of(Study study, JudgedCurves judged, MeasuredValues labelled) {
    Design.ReferencePartners reference = study.design().reference().orElseThrow();
    Predicate<ErrorCurve> onBoard = c -> c.board().equals(reference.board());
    Predicate<ErrorCurve> onCell = c -> c.cell().equals(reference.cell());
    List<Integer> both = indices(judged, onBoard.and(onCell));
    List<Integer> cells = indices(judged, onBoard.and(onCell.negate()));
    List<Integer> boards = indices(judged, onCell.and(onBoard.negate()));
    if (both.size() < FEWEST_REFERENCE_RUNS) {
      return new Outcome.NotJoined(
          "The reference pair was measured "
              + both.size()
              + " time(s); its own error enters every kit, so it has to be measured at least"
              + " twice.");
    }
    if (cells.size() < 2 || boards.size() < 2) {
      return new Outcome.NotJoined(
          "At least two cells on the reference board and two boards on the reference cell are"
              + " needed.");
    }
    List<ModelPart> halves =
        List.of(
            half(study, judged, labelled, cells, Role.OF_BOARDS),
            half(study, judged, labelled, boards, Role.OF_CELLS));
    double[] shifts = new double[judged.size()];
    double guard = 0;
    for (int p = 0; p < shifts.length; p++) {
      double[] own = judged.only(both).at(p).stream().mapToDouble(Double::doubleValue).toArray();
      shifts[p] = -Summary.mean(own);
      double error = Summary.sd(own) / Math.sqrt(own.length);
      guard = Math.max(guard, 2 * error);
    }
    List<Double> virtual = virtual(halves, shifts);
    int smaller = Math.min(units(halves.get(0), Role.CELL), units(halves.get(1), Role.BOARD));
    return new Outcome.Joined(
        new ReferencePartners(halves, shifts, guard, virtual, Math.max(1, smaller / 4)));
  }

  /** The K-th largest over the virtual kits. */
  double boundGrams() {
    return virtualLargest.get(virtualLargest.size() - rank);
  }

  private static int units(ModelPart half, Role role) {
    return half.labelled().levels(role);
  }

  private static List<Integer> indices(JudgedCurves judged, Predicate<ErrorCurve> wanted) {
    return IntStream.range(0, judged.curves().size())
        .filter(i -> wanted.test(judged.curves().get(i)))
        .boxed()
        .toList();
  }

  private static ModelPart half(
      Study study,
      JudgedCurves judged,
      MeasuredValues labelled,
      List<Integer> kept,
      Set<Role> partners) {
    MeasuredValues values = labelled.select(kept).without(partners);
    FactorPlan plan = FactorPlan.of(values);
    return new ModelPart(judged.only(kept), values, plan, ClaimWeights.of(study, plan, values));
  }

  /** The largest counted value of each cell with each board; a repeat of a unit does not count. */
  private static List<Double> virtual(List<ModelPart> halves, double[] shifts) {
    double[][] cells = firstOfEach(halves.get(0), Role.CELL);
    double[][] boards = firstOfEach(halves.get(1), Role.BOARD);
    boolean sizes = halves.get(0).judged().twoSided();
    List<Double> largest = new ArrayList<>();
    for (double[] cell : cells) {
      for (double[] board : boards) {
        double most = 0;
        for (int p = 0; p < shifts.length; p++) {
          double value = cell[p] + board[p] + shifts[p];
          most = Math.max(most, sizes ? Math.abs(value) : value);
        }
        largest.add(most);
      }
    }
    largest.sort(Double::compare);
    return List.copyOf(largest);
  }

  private static double[][] firstOfEach(ModelPart half, Role role) {
    List<String> serials = half.labelled().labelsOf(role).orElseThrow();
    double[][] matrix = half.judged().matrix();
    return IntStream.range(0, serials.size())
        .filter(i -> serials.indexOf(serials.get(i)) == i)
        .mapToObj(i -> matrix[i])
        .toArray(double[][]::new);
  }
}
