package lotproof.plan.rehearse;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lotproof.model.Role;
import lotproof.plan.Draws;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Layout.Meeting;
import lotproof.study.Design;
import lotproof.study.UnitKind;

/** Draws the errors of all runs of a layout, new units and lots each time. */
final class SimulatedErrors {
  private static final int NONE = -1;

  private final AssumedCurves curves;
  private final List<Meeting> meetings;
  private final int[] cellLot;
  private final int[] boardLot;
  private final int[] pairOf;
  private final int pairs;
  private final int cellLots;
  private final int boardLots;

  SimulatedErrors(Rehearsal.Planned planned) {
    Layout layout = planned.layout();
    this.curves = planned.curves();
    this.meetings = layout.meetings();
    this.cellLot = layout.units().lotOf(UnitKind.CELL);
    this.boardLot = layout.units().lotOf(UnitKind.BOARD);
    this.cellLots = layout.units().cellLots().size();
    this.boardLots = layout.units().boardLots().size();
    this.pairOf = new int[meetings.size()];
    // boards do nothing of their own to a dummy bridge
    int dummy =
        planned
            .partners()
            .filter(Design.ReferencePartners::dummyBridge)
            .map(it -> layout.units().serials(UnitKind.CELL).indexOf(it.cell()))
            .orElse(NONE);
    Map<List<Integer>, Integer> numbers = new HashMap<>();
    for (int i = 0; i < pairOf.length; i++) {
      int cell = meetings.get(i).cell();
      List<Integer> pair = List.of(cell, meetings.get(i).board());
      int number = numbers.computeIfAbsent(pair, any -> numbers.size());
      pairOf[i] = cell == dummy ? NONE : number;
    }
    this.pairs = numbers.size();
  }

  /**
   * One study.
   *
   * @param byPoint errors of the runs, g, point by point
   * @param cellLots effects of the lots of cells over the points
   * @param boardLots the same of boards
   */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
  record Drawn(double[][] byPoint, double[][] cellLots, double[][] boardLots) {}

  Drawn draw(Draws draws) {
    double[][] ofCellLots = effects(cellLots, Role.CELL_LOT, draws);
    double[][] ofBoardLots = effects(boardLots, Role.BOARD_LOT, draws);
    double[][] cells = effects(cellLot.length, Role.CELL, draws);
    double[][] boards = effects(boardLot.length, Role.BOARD, draws);
    double[][] pairing = effects(pairs, Role.PAIR, draws);
    double[][] repeat = effects(pairOf.length, Role.RESIDUAL, draws);
    double[] means = curves.meansGrams();
    double[] nothing = new double[means.length];
    double[][] byPoint = new double[means.length][pairOf.length];
    for (int i = 0; i < pairOf.length; i++) {
      Meeting meeting = meetings.get(i);
      double[] ofCellLot = ofCellLots[cellLot[meeting.cell()]];
      double[] ofBoardLot = ofBoardLots[boardLot[meeting.board()]];
      double[] cell = cells[meeting.cell()];
      double[] board = boards[meeting.board()];
      double[] pair = pairOf[i] == NONE ? nothing : pairing[pairOf[i]];
      for (int x = 0; x < means.length; x++) {
        byPoint[x][i] =
            means[x] + ofCellLot[x] + cell[x] + ofBoardLot[x] + board[x] + pair[x] + repeat[i][x];
      }
    }
    return new Drawn(byPoint, ofCellLots, ofBoardLots);
  }

  private double[][] effects(int count, Role source, Draws draws) {
    double[][] effects = new double[count][curves.points()];
    List<double[]> roots = curves.roots(source);
    for (double[] effect : effects) {
      for (double[] root : roots) {
        double z = draws.gaussian();
        for (int x = 0; x < effect.length; x++) {
          effect[x] += z * root[x];
        }
      }
    }
    return effects;
  }
}
