package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/** A table with one column a run, turned so that it has one row a run. */
final class TurnedTable {
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
          Code.FILE_TYPE, units.number(), "", "more than " + MOST_ROWS + " rows of loads are none");
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
        grid.withRows(Grid.Rows.of(runs)), new Row(units.number(), labels), lines, true, context);
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
