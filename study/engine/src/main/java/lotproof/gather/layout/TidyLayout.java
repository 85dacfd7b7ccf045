package lotproof.gather.layout;

import java.util.EnumMap;
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
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * One reading a row. Named values above the table hold for all of it; where they come again below
 * it, a block of its own starts.
 */
final class TidyLayout implements ReadingLayout {
  /** What a new block has to name again. */
  private static final Set<ReadingColumn> OF_A_BLOCK =
      EnumSet.complementOf(EnumSet.of(ReadingColumn.SESSION));

  private static final List<ReadingColumn> NEEDED =
      List.of(ReadingColumn.CELL, ReadingColumn.BOARD, ReadingColumn.LOAD, ReadingColumn.OUTPUT);

  private static final int MOST_TEXTS = 10_000;

  private final Grid grid;
  private final ReadingContext context;
  private final Row header;
  private final Columns columns;
  private int blocks;

  TidyLayout(Grid grid, ReadingContext context, Row header) {
    this.grid = grid;
    this.context = context;
    this.header = header;
    this.columns = Columns.of(header, context);
    columns.constants();
  }

  @Override
  public String layout() {
    return blocks > 1 ? "load-run blocks, " + blocks : "one reading a row";
  }

  @Override
  public List<ColumnUse> uses() {
    return columns.uses();
  }

  @Override
  public boolean isSound() {
    return columns.areSound();
  }

  @Override
  public int headerLine() {
    return header.number();
  }

  @Override
  public Optional<DataIssue> forEach(boolean first, Visitor visitor) {
    Pass pass = new Pass(first, visitor);
    Optional<DataIssue> broken = grid.rows().forEach(pass::take);
    pass.end();
    return broken;
  }

  private final class Pass {
    private final boolean first;
    private final Visitor visitor;
    private final Map<ReadingColumn, ColumnMap.Slot> named = new EnumMap<>(ReadingColumn.class);
    private Optional<ColumnMap.Slot> day = Optional.empty();
    private ColumnMap slots = new ColumnMap();
    private boolean stale = true;
    private boolean touched;
    private int above;
    private int comments;
    private final Set<String> missing = new HashSet<>();
    private boolean anyNamed;
    private final Map<String, Boolean> mayName = new HashMap<>();

    private Pass(boolean first, Visitor visitor) {
      this.first = first;
      this.visitor = visitor;
    }

    private boolean take(Row row) {
      if (row.number() == header.number()) {
        stale = true;
        return true;
      }
      if (HeaderNotes.isComment(row)) {
        comments++;
        if (first) {
          HeaderNotes.judgeComment(row, header.cells().size(), context);
        }
        return true;
      }
      Optional<List<HeaderNotes.Named>> values =
          mayBeNamed(row) ? HeaderNotes.named(row) : Optional.empty();
      if (values.isPresent()) {
        name(values.get());
      } else if (row.number() < header.number()) {
        above++;
      } else if (!isHeaderAgain(row)) {
        data(row);
      }
      return true;
    }

    /** Most rows of a long table begin with one of few texts, which are judged once. */
    private boolean mayBeNamed(Row row) {
      if (!(row.cell(0) instanceof Cell.Text text)) {
        return row.cell(0) instanceof Cell.Blank;
      }
      Boolean known = mayName.get(text.value());
      if (known == null) {
        known = HeaderNotes.mayName(text.value());
        if (mayName.size() < MOST_TEXTS) {
          mayName.put(text.value(), known);
        }
      }
      return known;
    }

    private void name(List<HeaderNotes.Named> values) {
      if (touched) {
        named.keySet().removeAll(OF_A_BLOCK);
        touched = false;
      }
      anyNamed = true;
      named.putAll(HeaderNotes.slots(values, context));
      day = HeaderNotes.day(values).or(() -> day);
      stale = true;
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

    private void data(Row row) {
      if (row.cells().stream().anyMatch(Cell.LeftOut.class::isInstance)) {
        return;
      }
      if (stale) {
        compose(row);
      }
      if (!touched) {
        touched = true;
        if (first) {
          blocks++;
        }
      }
      if (first) {
        columns.judge(row, grid);
      }
      visitor.visit(slots, row, row.number());
    }

    private void compose(Row row) {
      slots = columns.slots().copy();
      for (Map.Entry<ReadingColumn, ColumnMap.Slot> entry : named.entrySet()) {
        if (!slots.has(entry.getKey())) {
          slots.put(entry.getKey(), entry.getValue());
        } else if (first) {
          context.warning(
              Code.VALUE_INVALID,
              header.number(),
              entry.getValue().header(),
              "the value above the table is not used, because the table has a column for it");
        }
      }
      if (slots.day().isEmpty()) {
        day.ifPresent(slots::day);
      }
      stale = false;
      if (first) {
        NEEDED.stream().filter(column -> !slots.has(column)).forEach(c -> needed(c, row));
      }
    }

    private void needed(ReadingColumn column, Row row) {
      if (anyNamed && blocks > 0) {
        context.error(
            Code.VALUE_MISSING,
            row.number(),
            column.header(),
            "nothing above this block names its " + column.word() + "; every block names its own");
      } else if (!context.hasUnclearColumn() && missing.add(column.word())) {
        context.error(
            Code.COLUMN_MISSING,
            header.number(),
            column.header(),
            "there is no column \"" + column.header() + "\"; every reading needs it");
      }
    }

    private void end() {
      if (!first) {
        return;
      }
      if (blocks == 0) {
        context.error(Code.FILE_EMPTY, header.number(), "", "there is no row below the header");
        compose(header);
      }
      if (above > 0) {
        context.fact("rows above the table that were not read", Integer.toString(above));
      }
      if (comments > 0) {
        context.fact("comment lines that were not read", Integer.toString(comments));
      }
      named.forEach(
          (column, slot) ->
              context.fact(
                  column.word() + ", named above the rows",
                  blocks > 1 ? "block by block" : slot.constant().shown()));
    }
  }
}
