package lotproof.gather.layout;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** One layout: the way from the rows of a file to its single readings. */
abstract class ReadingLayout {
  final Grid grid;
  final ReadingContext context;
  final Row header;
  final Columns columns;

  ReadingLayout(Grid grid, ReadingContext context, Row header) {
    this.grid = grid;
    this.context = context;
    this.header = header;
    this.columns = Columns.of(header, context);
    columns.constants();
  }

  /** Looks at the places of one reading. */
  interface Visitor {
    /**
     * Takes the next.
     *
     * @param places where its values stand
     * @param row the row that they stand in
     * @param line line or sheet row that is named as its source
     */
    void visit(ColumnMap places, Row row, int line);
  }

  /** The layout, for people. */
  abstract String words();

  /** How its columns were understood. */
  List<ColumnUse> uses() {
    return columns.uses();
  }

  /** Whether every column is understood. */
  boolean isSound() {
    return columns.areSound();
  }

  abstract Pass pass(boolean first, Visitor visitor);

  /**
   * Goes through all readings in file order.
   *
   * @param first whether this is the first time, when the shape of the file is judged
   * @return why the file cannot be read to its end, when it cannot
   */
  final Optional<DataIssue> forEach(boolean first, Visitor visitor) {
    Pass pass = pass(first, visitor);
    Optional<DataIssue> broken = grid.rows().forEach(pass::take);
    if (first) {
      pass.end();
    }
    return broken;
  }

  /** One way through the rows. */
  abstract class Pass {
    final boolean first;
    final Visitor visitor;
    final Map<ReadingColumn, Slot> named = new EnumMap<>(ReadingColumn.class);
    private Optional<Slot> day = Optional.empty();
    private int above;
    private int comments;

    Pass(boolean first, Visitor visitor) {
      this.first = first;
      this.visitor = visitor;
    }

    abstract void data(Row row);

    /** Named values of a row, when it holds nothing else. */
    abstract Optional<List<HeaderNotes.Named>> notes(Row row);

    boolean isHeader(Row row) {
      return row.number() == header.number();
    }

    boolean isAbove(Row row) {
      return row.number() < header.number();
    }

    final boolean take(Row row) {
      if (isHeader(row)) {
        return true;
      }
      if (HeaderNotes.isComment(row)) {
        comments++;
        if (first) {
          HeaderNotes.judgeComment(row, header.cells().size(), context);
        }
        return true;
      }
      Optional<List<HeaderNotes.Named>> values = notes(row);
      if (values.isPresent()) {
        name(values.get());
      } else if (isAbove(row)) {
        above++;
      } else {
        data(row);
      }
      return true;
    }

    void name(List<HeaderNotes.Named> values) {
      named.putAll(HeaderNotes.slots(values, context));
      day = HeaderNotes.day(values).or(() -> day);
    }

    /** The columns of the table, and the named values for which it has none. */
    final ColumnMap places() {
      ColumnMap places = columns.slots().copy();
      named.forEach(
          (column, slot) -> {
            if (!places.has(column)) {
              places.put(column, slot);
            } else if (first) {
              context.warning(
                  Code.VALUE_INVALID,
                  header.number(),
                  slot.header(),
                  "the value above the table is not used, because the table has a column for it");
            }
          });
      if (places.day().isEmpty()) {
        day.ifPresent(places::day);
      }
      return places;
    }

    final void missing(ReadingColumn column) {
      if (!context.hasUnclearColumn()) {
        context.error(
            Code.COLUMN_MISSING,
            header.number(),
            column.header(),
            "there is no column \"%s\"; every reading needs it".formatted(column.header()));
      }
    }

    /** Says what was found, and what was not. */
    void end() {
      fact("rows above the table that were not read", above);
      fact("comment lines that were not read", comments);
    }

    final void fact(String name, int count) {
      if (count > 0) {
        context.fact(name, Integer.toString(count));
      }
    }
  }
}
