package lotproof.plan.rehearse;

import java.util.List;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Meeting;
import lotproof.study.Design;
import lotproof.study.UnitKind;

/**
 * The reference partners of a layout, by index.
 *
 * @param cell index of the reference cell or dummy bridge
 * @param board index of the reference board
 * @param dummyBridge whether the cell is a dummy bridge, to which boards do nothing of their own
 */
record References(int cell, int board, boolean dummyBridge) {
  static References of(Layout layout, Design.ReferencePartners partners) {
    List<String> cells = layout.units().serials(UnitKind.CELL);
    List<String> boards = layout.units().serials(UnitKind.BOARD);
    return new References(
        cells.indexOf(partners.cell()), boards.indexOf(partners.board()), partners.dummyBridge());
  }

  /** Whether the two references meet each other. */
  boolean isPair(Meeting meeting) {
    return meeting.cell() == cell && meeting.board() == board;
  }

  /** Whether a cell of the study is measured. */
  boolean isOfCell(Meeting meeting) {
    return meeting.cell() != cell && meeting.board() == board;
  }

  /** Whether a board of the study is measured. */
  boolean isOfBoard(Meeting meeting) {
    return meeting.cell() == cell && meeting.board() != board;
  }

  /** Whether pairing shows in a meeting. */
  boolean showsPairing(Meeting meeting) {
    return !(dummyBridge && meeting.cell() == cell);
  }
}
