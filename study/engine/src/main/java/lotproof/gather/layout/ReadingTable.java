package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * A table of readings, walked through reading by reading. It has one reading a row, or one run a
 * row with a column for each load. Named values above it hold for all of it; where they come again
 * below it, a block of its own starts.
 */
final class ReadingTable {
  static final List<ReadingColumn> NEEDED =
      List.of(ReadingColumn.CELL, ReadingColumn.BOARD, ReadingColumn.LOAD, ReadingColumn.OUTPUT);

  private final Grid grid;
  private final Row header;
  private final List<Row> written;
  private final List<Integer> lines;
  private final Columns columns;
  private final boolean wide;
  private final Set<Integer> toldNameless = new HashSet<>();
  private int blocks;

  /**
   * A table.
   *
   * @param header what names its columns
   * @param written the rows of the file that the header stands in
   * @param lines for a table that was turned the line of the file by column, else empty
   * @param wide whether it has one run a row
   */
  ReadingTable(
      Grid grid,
      Row header,
      List<Row> written,
      List<Integer> lines,
      boolean wide,
      ReadingContext context) {
    this.grid = grid;
    this.header = header;
    this.written = written;
    this.lines = lines;
    this.wide = wide;
    this.columns = Columns.of(header, context, wide);
  }

  /** Looks at the places of one reading. */
  interface Taker {
    /**
     * Takes the next.
     *
     * @param places where its values stand
     * @param row the row that they stand in
     * @param line line or sheet row that is named as its source
     */
    void take(ColumnMap places, Row row, int line);
  }

  /** The layout, for people. */
  String words() {
    if (wide) {
      return lines.isEmpty() ? "one run a row" : "one column a run";
    }
    return blocks > 1 ? "load-run blocks, " + blocks : "one reading a row";
  }

  Columns columns() {
    return columns;
  }

  /**
   * Goes through all readings in file order.
   *
   * @param context what is told of the shape of the table
   * @return why the file cannot be read to its end, when it cannot
   */
  Optional<DataIssue> forEach(ReadingContext context, Taker taker) {
    blocks = 0;
    Walk walk = new Walk(context, taker);
    Optional<DataIssue> broken = grid.rows().forEach(walk::take);
    walk.end();
    return broken;
  }

  private int line(Row row, int column) {
    return lines.isEmpty() ? row.number() : lines.get(column);
  }

  /** One way through the rows. */
  private final class Walk {
    private final ReadingContext context;
    private final Taker taker;
    private final Map<Cell, Boolean> mayName = new HashMap<>();
    private final Set<ReadingColumn> missing = new HashSet<>();
    private List<ColumnMap> readings = List.of();
    private ColumnMap named = new ColumnMap();
    private boolean anyNamed;
    private boolean stale = true;
    private boolean touched;
    private int above;
    private int comments;

    /** The last line that begins with # and a number. */
    private int numbered;

    private boolean bare;
    private int taken;
    private int empty;
    private final List<Integer> totals = new ArrayList<>();

    private Walk(ReadingContext context, Taker taker) {
      this.context = context;
      this.taker = taker;
    }

    private boolean take(Row row) {
      boolean isAbove = lines.isEmpty() && row.number() < header.number();
      if (lines.isEmpty() && isHeader(row)) {
        return true;
      }
      if (HeaderNotes.isComment(row)) {
        comments++;
        HeaderNotes.judgeComment(row, header.cells().size(), context);
        return true;
      }
      boolean may = wide ? isAbove : mayName(row);
      List<HeaderNotes.Named> values = may ? HeaderNotes.named(row) : List.of();
      if (!values.isEmpty()) {
        name(values);
      } else if (isAbove) {
        above++;
      } else {
        data(row);
      }
      return true;
    }

    /** A row of the header itself, or the same once more further down. */
    private boolean isHeader(Row row) {
      return written.stream()
          .anyMatch(
              of ->
                  row.number() == of.number()
                      || (row.number() > of.number() && HeaderNotes.same(row, of)));
    }

    /** Most rows of a long table begin with one of few texts, which are judged once. */
    private boolean mayName(Row row) {
      Cell first = row.cell(0);
      return first instanceof Cell.Blank
          || (HeaderNotes.isWord(first) && mayName.computeIfAbsent(first, HeaderNotes::mayName));
    }

    private void name(List<HeaderNotes.Named> values) {
      if (touched) {
        // what a new block has to name again
        named.slots().keySet().retainAll(Set.of(ReadingColumn.SESSION));
        touched = false;
      }
      anyNamed = true;
      stale = true;
      values.forEach(value -> value.into(named, context));
    }

    private void data(Row row) {
      if (!wide && row.cells().stream().anyMatch(Cell.LeftOut.class::isInstance)) {
        return;
      }
      if (stale) {
        compose(row);
      }
      if (HeaderNotes.isTotal(row) && lacksName(row)) {
        totals.add(row.number());
        return;
      }
      blocks += touched ? 0 : 1;
      touched = true;
      judge(row);
      numbered = HeaderNotes.isNumbered(row) ? Math.max(numbered, row.number()) : numbered;
      bare |= row.cell(0).shown().matches("[0-9]{1,9}");
      int before = taken;
      for (ColumnMap places : readings) {
        int index = wide ? places.slot(ReadingColumn.OUTPUT).orElseThrow().index() : 0;
        if (!wide || !(row.cell(index) instanceof Cell.Blank)) {
          taken++;
          taker.take(places, row, line(row, index));
        }
      }
      if (taken == before) {
        empty++;
        judgeEmpty(row);
      }
    }

    /** Whether a column that names the run or its units is empty. */
    private boolean lacksName(Row row) {
      return Stream.of(
              ReadingColumn.RUN, ReadingColumn.STEP, ReadingColumn.CELL, ReadingColumn.BOARD)
          .flatMap(column -> columns.slots().slot(column).stream())
          .anyMatch(slot -> slot.in(row) instanceof Cell.Blank);
    }

    /** The columns of the table, and the named values for which it has none. */
    private void compose(Row row) {
      ColumnMap places = columns.slots().copy();
      named
          .slots()
          .forEach(
              (column, slot) -> {
                if (places.has(column)) {
                  context.warning(
                      Code.VALUE_INVALID,
                      header.number(),
                      slot.header(),
                      "the value above the table is not used, because the table has a column for"
                          + " it");
                } else {
                  places.slots().put(column, slot);
                }
              });
      named.beside().forEach(places.beside()::putIfAbsent);
      readings = new ArrayList<>();
      for (Map<ReadingColumn, Slot> step : wide ? columns.steps() : List.of(places.slots())) {
        ColumnMap reading = places.copy();
        reading.slots().putAll(step);
        readings.add(reading);
      }
      NEEDED.stream()
          .filter(column -> !places.has(column))
          .filter(column -> !wide || column.compareTo(ReadingColumn.LOAD) < 0)
          .forEach(column -> needed(column, row));
      stale = false;
    }

    private void needed(ReadingColumn column, Row row) {
      if (anyNamed && blocks > 0) {
        context.error(
            Code.VALUE_MISSING,
            row.number(),
            column.header(),
            "nothing above this block names its %s; every block names its own",
            column.word());
      } else if (missing.add(column)) {
        context.missing(column, header);
      }
    }

    /** Names a row that is cut short, and a value behind no header, once for each column. */
    private void judge(Row row) {
      context.judgeLength(row, header.cells().size(), grid);
      for (int i = 0; i < row.cells().size(); i++) {
        Cell cell = row.cell(i);
        if (!(cell instanceof Cell.Blank || cell instanceof Cell.LeftOut)
            && header.cell(i).shown().isEmpty()
            && toldNameless.add(i)) {
          context.error(
              Code.COLUMN_UNKNOWN,
              line(row, i),
              Columns.position(i),
              "there is a value in a column that has no name");
        }
      }
    }

    /** A serial outside its column, beside a number, is a reading of another table. */
    private void judgeEmpty(Row row) {
      boolean number = false;
      boolean elsewhere = false;
      for (int i = 0; i < row.cells().size(); i++) {
        int column = i;
        String text = row.cell(i).shown();
        boolean ofUnits =
            Stream.of(ReadingColumn.CELL, ReadingColumn.BOARD)
                .flatMap(kind -> columns.slots().slot(kind).stream())
                .anyMatch(slot -> slot.index() == column);
        elsewhere |= !ofUnits && context.isUnit(text);
        number |= text.matches("[+-]?[0-9][0-9.,]*");
      }
      if (elsewhere && number && lines.isEmpty()) {
        context.error(
            Code.DATA_SKIPPED,
            row.number(),
            "",
            "the line has no output in the columns of this table, and a serial in another column;"
                + " does it belong to another table? Give that table in a file of its own, or begin"
                + " the line with #");
      }
    }

    /** Says what was found, and what was not. */
    private void end() {
      if (readings.isEmpty()) {
        compose(header);
      }
      if (taken == 0) {
        context.error(
            Code.FILE_EMPTY,
            header.number(),
            "",
            wide ? "no run of the table has an output yet" : "there is no row below the header");
      }
      if (numbered > 0 && bare) {
        context.error(
            Code.AMBIGUOUS,
            numbered,
            "",
            "the line begins with # and a number, and others with a number alone: write the run as"
                + " the others, or take the line out if it does not count");
      }
      context.warnOfTotals(totals);
      context.fact("rows above the table that were not read", above);
      context.fact("comment lines that were not read", comments);
      context.fact("runs without any output, not measured yet", empty);
      named
          .slots()
          .forEach(
              (column, slot) ->
                  context.fact(
                      column.word() + ", named above the rows",
                      blocks > 1 ? "block by block" : slot.constant().shown()));
    }
  }

  /** A table with one column a run, turned so that it has one row a run. */
  static final class TurnedTable {
    /** More rows are no list of loads. */
    private static final int MOST_ROWS = 2000;

    private final ReadingContext context;
    private final Grid grid;
    private final Row units;
    private final List<Row> rows = new ArrayList<>();

    private TurnedTable(ReadingContext context, Grid grid, Row units) {
      this.context = context;
      this.grid = grid;
      this.units = units;
    }

    /** The table whose units stand in this row. */
    static ReadingTable of(Grid grid, ReadingContext context, Row units) {
      TurnedTable table = new TurnedTable(context, grid, units);
      grid.rows().forEach(table::collect).ifPresent(context::add);
      if (table.rows.size() > MOST_ROWS) {
        context.error(
            Code.FILE_TYPE,
            units.number(),
            "",
            "more than " + MOST_ROWS + " rows of loads are none");
      }
      return table.turned();
    }

    /** Takes rows from the units on, and rows with a known name above them. */
    private boolean collect(Row row) {
      int columns = units.cells().size();
      if (HeaderNotes.isComment(row)) {
        HeaderNotes.judgeComment(row, columns, context);
      } else if (row.number() < units.number() && !(header(row) instanceof HeaderCell.Known)) {
        context.fact("row above the table that was not read", "" + row.number());
      } else {
        rows.add(row);
        context.judgeLength(row, columns, grid);
        for (int i = columns; i < row.cells().size(); i++) {
          if (!(row.cell(i) instanceof Cell.Blank)) {
            context.error(
                Code.COLUMN_UNKNOWN,
                row.number(),
                Columns.position(i),
                "there is a value in a column that names no unit");
          }
        }
      }
      return rows.size() <= MOST_ROWS;
    }

    private HeaderCell header(Row row) {
      return HeaderCell.of(row.cell(0).shown(), context.mapping());
    }

    private ReadingTable turned() {
      List<Optional<ReadingContext.Pair>> pairs =
          units.cells().stream().map(unit -> context.pair(unit.shown())).toList();
      boolean anyPair = pairs.stream().skip(1).anyMatch(Optional::isPresent);
      List<Cell> labels = new ArrayList<>();
      List<Integer> lines = new ArrayList<>();
      for (Row row : rows) {
        labels.add(row.number() == units.number() ? new Cell.Text("cell") : label(row));
        lines.add(row.number());
      }
      if (anyPair) {
        labels.add(new Cell.Text("board"));
        lines.add(units.number());
      }
      List<Row> runs = new ArrayList<>();
      for (int column = 1; column < units.cells().size(); column++) {
        List<Cell> cells = new ArrayList<>();
        Optional<ReadingContext.Pair> pair = pairs.get(column);
        for (Row row : rows) {
          boolean isUnit = row.number() == units.number() && pair.isPresent();
          cells.add(isUnit ? new Cell.Text(pair.orElseThrow().cell()) : row.cell(column));
        }
        if (anyPair) {
          cells.add(Cell.of(pair.map(ReadingContext.Pair::board).orElse("")));
        }
        runs.add(new Row(units.number(), cells));
      }
      return new ReadingTable(
          grid.withRows(Grid.Rows.of(runs)),
          new Row(units.number(), labels),
          List.of(),
          lines,
          true,
          context);
    }

    /** A number below a load with unit is a load with that unit. */
    private Cell label(Row row) {
      String text = row.cell(0).shown();
      boolean bare = text.matches("[+-]?[0-9][0-9.,]*");
      return bare && header(units) instanceof HeaderCell.Known known && known.unit().isPresent()
          ? new Cell.Text(text + " " + known.unit().get().symbol())
          : Cell.of(text);
    }
  }
}
