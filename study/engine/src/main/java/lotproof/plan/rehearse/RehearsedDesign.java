package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Meeting;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.CurveRefit;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.NotEstimable;
import lotproof.statistics.components.RandomFactor;
import lotproof.study.AssumedSpread;
import lotproof.study.UnitKind;

/** How the analysis forms the bound from the runs of a design. */
abstract class RehearsedDesign {
  private final CurveRefit refit;
  private final int anchor;

  private RehearsedDesign(List<CurveRefit.Part> parts, int anchor) {
    this.refit = new CurveRefit(parts);
    this.anchor = anchor;
  }

  /** A design, or why it can support no figure. */
  sealed interface Outcome {
    /** It can be rehearsed. */
    record Ready(RehearsedDesign design) implements Outcome {}

    /** It cannot. */
    record Not(String reason) implements Outcome {}
  }

  /** Thrown inside this class alone. */
  private static final class NoFigureException extends Exception {
    private static final long serialVersionUID = 1;

    NoFigureException(String reason) {
      super(reason);
    }
  }

  static Outcome of(
      Layout layout, Optional<References> references, AssumedCurves curves, double content) {
    int anchor = curves.widest(content);
    AssumedSpread spread = curves.at(anchor);
    try {
      return new Outcome.Ready(
          references.isPresent()
              ? new OnReferences(layout, spread, anchor, references.get())
              : new OfKits(layout, spread, anchor));
    } catch (NoFigureException e) {
      return new Outcome.Not(String.valueOf(e.getMessage()));
    }
  }

  private static CurveRefit.Part part(
      int runs, List<RandomFactor> factors, double[] variances, double mean)
      throws NoFigureException {
    FitOutcome outcome = ComponentsFitter.assumed(runs, factors, variances, mean);
    if (outcome instanceof ComponentsFit fit) {
      return new CurveRefit.Part(fit, ComponentWeights.ALL);
    }
    throw new NoFigureException(((NotEstimable) outcome).reason());
  }

  /** The bound before the masses, g; infinite when there is none. */
  abstract double bound(double[][] byPoint, PlannedClaim question);

  /** The larger of the model's bound and one that needs no model. */
  final double bound(List<double[][]> values, double[] shifts, double free, PlannedClaim question) {
    Optional<CurveRefit.Bounds> bounds =
        refit.bounds(
            values,
            new CurveRefit.Question(
                shifts, anchor, question.content(), question.confidence(), free));
    return bounds.map(b -> Math.max(free, b.larger())).orElse(Double.POSITIVE_INFINITY);
  }

  /** Kits themselves are tested; without a model the largest error of all runs bounds them. */
  private static final class OfKits extends RehearsedDesign {
    OfKits(Layout layout, AssumedSpread spread, int anchor) throws NoFigureException {
      super(List.of(model(layout, spread)), anchor);
    }

    private static CurveRefit.Part model(Layout layout, AssumedSpread spread)
        throws NoFigureException {
      LayoutModel model = new LayoutModel(layout, spread, true);
      return part(layout.meetings().size(), model.factors(), model.variances(), spread.meanGrams());
    }

    @Override
    double bound(double[][] byPoint, PlannedClaim question) {
      double largest = 0;
      for (double[] values : byPoint) {
        for (double value : values) {
          largest = Math.max(largest, Math.abs(value));
        }
      }
      return bound(List.<double[][]>of(byPoint), new double[byPoint.length], largest, question);
    }
  }

  /**
   * Cells on a reference board and boards on a reference cell: a kit is the sum of the two less the
   * mean of the reference pair, twice whose standard error is added. Without a model the K-th
   * largest virtual kit bounds kits, K a quarter of the smaller number of units.
   */
  private static final class OnReferences extends RehearsedDesign {
    private final int[] both;
    private final int[] cells;
    private final int[] boards;
    private final int[] firstOfCells;
    private final int[] firstOfBoards;

    OnReferences(Layout layout, AssumedSpread spread, int anchor, References references)
        throws NoFigureException {
      super(
          List.of(
              half(layout, spread, UnitKind.CELL, references),
              half(layout, spread, UnitKind.BOARD, references)),
          anchor);
      both = runs(layout, references::isPair);
      cells = runs(layout, references::isOfCell);
      boards = runs(layout, references::isOfBoard);
      firstOfCells = firstOf(layout, cells, UnitKind.CELL);
      firstOfBoards = firstOf(layout, boards, UnitKind.BOARD);
      if (both.length < 2) {
        throw new NoFigureException(
            "the reference pair itself has to be measured twice or more, as its error enters"
                + " every kit");
      }
    }

    private static int[] runs(Layout layout, Predicate<Meeting> wanted) {
      List<Meeting> meetings = layout.meetings();
      return IntStream.range(0, meetings.size())
          .filter(i -> wanted.test(meetings.get(i)))
          .toArray();
    }

    /** Places of the first run of each unit among some runs. */
    private static int[] firstOf(Layout layout, int[] runs, UnitKind kind) {
      int[] units =
          IntStream.of(runs)
              .mapToObj(run -> layout.meetings().get(run))
              .mapToInt(m -> kind == UnitKind.CELL ? m.cell() : m.board())
              .toArray();
      return IntStream.range(0, runs.length)
          .filter(i -> IntStream.range(0, i).noneMatch(j -> units[j] == units[i]))
          .toArray();
    }

    private static CurveRefit.Part half(
        Layout layout, AssumedSpread spread, UnitKind kind, References references)
        throws NoFigureException {
      boolean ofCells = kind == UnitKind.CELL;
      int[] runs = runs(layout, m -> ofCells ? references.isOfCell(m) : references.isOfBoard(m));
      int[] lotOf = layout.units().lotOf(kind);
      List<String> units = new ArrayList<>();
      List<String> lots = new ArrayList<>();
      for (int run : runs) {
        Meeting meeting = layout.meetings().get(run);
        int unit = ofCells ? meeting.cell() : meeting.board();
        units.add(String.valueOf(unit));
        lots.add(String.valueOf(lotOf[unit]));
      }
      double ofUnit = ofCells ? spread.cellVariance() : spread.boardVariance();
      double ofLot = ofCells ? spread.cellLotVariance() : spread.boardLotVariance();
      double rest = spread.pairingVariance() + spread.repeatVariance();
      String unitName = ofCells ? LayoutModel.CELL : LayoutModel.BOARD;
      String lotName = ofCells ? LayoutModel.CELL_LOT : LayoutModel.BOARD_LOT;
      long different = units.stream().distinct().count();
      long lotCount = lots.stream().distinct().count();
      List<RandomFactor> factors = new ArrayList<>();
      List<Double> variances = new ArrayList<>();
      boolean repeated = different < units.size();
      if (repeated) {
        factors.add(RandomFactor.of(unitName, units));
        variances.add(ofUnit);
      }
      if (lotCount > 1 && lotCount < different) {
        factors.add(RandomFactor.of(lotName, lots));
        variances.add(ofLot);
      }
      variances.add(repeated ? rest : ofUnit + rest);
      return part(
          runs.length,
          factors,
          variances.stream().mapToDouble(Double::doubleValue).toArray(),
          spread.meanGrams());
    }

    @Override
    double bound(double[][] byPoint, PlannedClaim question) {
      double[] shifts = new double[byPoint.length];
      double guard = 0;
      for (int x = 0; x < shifts.length; x++) {
        double[] own = picked(byPoint[x], both);
        double mean = Arrays.stream(own).average().orElse(0);
        double squares = Arrays.stream(own).map(v -> (v - mean) * (v - mean)).sum();
        shifts[x] = -mean;
        guard = Math.max(guard, 2 * Math.sqrt(squares / (own.length - 1.0) / own.length));
      }
      double[][] ofCells = picked(byPoint, cells);
      double[][] ofBoards = picked(byPoint, boards);
      double free = virtual(picked(ofCells, firstOfCells), picked(ofBoards, firstOfBoards), shifts);
      return guard + bound(List.of(ofCells, ofBoards), shifts, free, question);
    }

    private static double[][] picked(double[][] byPoint, int[] runs) {
      double[][] result = new double[byPoint.length][];
      for (int x = 0; x < result.length; x++) {
        result[x] = picked(byPoint[x], runs);
      }
      return result;
    }

    private static double[] picked(double[] values, int[] runs) {
      return IntStream.of(runs).mapToDouble(run -> values[run]).toArray();
    }

    /** The K-th largest virtual kit. */
    private static double virtual(double[][] cells, double[][] boards, double[] shifts) {
      int count = cells[0].length;
      int others = boards[0].length;
      double[] largest = new double[count * others];
      for (int x = 0; x < shifts.length; x++) {
        for (int c = 0; c < count; c++) {
          double cell = cells[x][c] + shifts[x];
          for (int b = 0; b < others; b++) {
            largest[c * others + b] =
                Math.max(largest[c * others + b], Math.abs(cell + boards[x][b]));
          }
        }
      }
      Arrays.sort(largest);
      int rank = Math.max(1, Math.min(count, others) / 4);
      return largest[largest.length - rank];
    }
  }
}
