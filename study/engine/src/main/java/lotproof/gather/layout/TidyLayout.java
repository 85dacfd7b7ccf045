package lotproof.gather.layout;

import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/**
 * One reading a row. Named values above the table hold for all of it; where they come again below
 * it, a block of its own starts.
 */
final class TidyLayout extends ReadingLayout {
  /** What a new block has to name again. */
  private static final Set<ReadingColumn> OF_A_BLOCK =
      EnumSet.complementOf(EnumSet.of(ReadingColumn.SESSION));

  private static final List<ReadingColumn> NEEDED =
      List.of(ReadingColumn.CELL, ReadingColumn.BOARD, ReadingColumn.LOAD, ReadingColumn.OUTPUT);
  private static final int MOST_TEXTS = 10_000;

  private int blocks;

  TidyLayout(Grid grid, ReadingContext context, Row header) {
    super(grid, context, header);
  }

  @Override
  String words() {
    return blocks > 1 ? "load-run blocks, " + blocks : "one reading a row";
  }

  @Override
  Pass pass(boolean first, Visitor visitor) {
    return new Blocks(first, visitor);
  }

  private final class Blocks extends Pass {
    private final Set<ReadingColumn> missing = new HashSet<>();
    private final Map<String, Boolean> mayName = new HashMap<>();
    private ColumnMap places = new ColumnMap();
    private boolean stale = true;
    private boolean touched;
    private boolean anyNamed;

    private Blocks(boolean first, Visitor visitor) {
      super(first, visitor);
    }

    /** Most rows of a long table begin with one of few texts, which are judged once. */
    @Override
    Optional<List<HeaderNotes.Named>> notes(Row row) {
      boolean may = row.cell(0) instanceof Cell.Blank;
      if (row.cell(0) instanceof Cell.Text text) {
        if (mayName.size() > MOST_TEXTS) {
          mayName.clear();
        }
        may = mayName.computeIfAbsent(text.value(), HeaderNotes::mayName);
      }
      return may ? HeaderNotes.named(row) : Optional.empty();
    }

    @Override
    void name(List<HeaderNotes.Named> values) {
      if (touched) {
        named.keySet().removeAll(OF_A_BLOCK);
        touched = false;
      }
      anyNamed = true;
      stale = true;
      super.name(values);
    }

    private boolean isHeaderAgain(Row row) {
      int cells = Math.max(row.cells().size(), header.cells().size());
      for (int i = 0; i < cells; i++) {
        if (!row.cell(i).equals(header.cell(i))) {
          return false;
        }
      }
      return true;
    }

    @Override
    void data(Row row) {
      if (isHeaderAgain(row) || row.cells().stream().anyMatch(Cell.LeftOut.class::isInstance)) {
        return;
      }
      if (stale) {
        compose(row);
      }
      if (!touched) {
        touched = true;
        blocks += first ? 1 : 0;
      }
      if (first) {
        columns.judge(row, grid);
      }
      visitor.visit(places, row, row.number());
    }

    private void compose(Row row) {
      places = places();
      stale = false;
      if (first) {
        NEEDED.stream().filter(column -> !places.has(column)).forEach(c -> needed(c, row));
      }
    }

    private void needed(ReadingColumn column, Row row) {
      if (anyNamed && blocks > 0) {
        context.error(
            Code.VALUE_MISSING,
            row.number(),
            column.header(),
            "nothing above this block names its %s; every block names its own"
                .formatted(column.word()));
      } else if (missing.add(column)) {
        missing(column);
      }
    }

    @Override
    void end() {
      if (blocks == 0) {
        context.error(Code.FILE_EMPTY, header.number(), "", "there is no row below the header");
        compose(header);
      }
      super.end();
      named.forEach(
          (column, slot) ->
              context.fact(
                  column.word() + ", named above the rows",
                  blocks > 1 ? "block by block" : slot.constant().shown()));
    }
  }
}
