package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntUnaryOperator;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** A table with one column a run, turned so that it has one row a run. */
final class TurnedTable {
  /** More rows are no list of loads. */
  private static final int MOST_ROWS = 2000;

  private static final Cell BLANK = new Cell.Blank();

  private final ReadingContext context;
  private final Layouts layouts;
  private final List<Row> rows = new ArrayList<>();
  private final List<Integer> lines = new ArrayList<>();
  private final List<Cell> labels = new ArrayList<>();

  private TurnedTable(ReadingContext context, Layouts layouts) {
    this.context = context;
    this.layouts = layouts;
  }

  /** The walk through a table whose units stand in this row. */
  static WideLayout layout(Grid grid, ReadingContext context, Layouts layouts, Row units) {
    TurnedTable table = new TurnedTable(context, layouts);
    table.collect(grid, units);
    List<Row> turned = table.turn(units);
    Row header = new Row(units.number(), table.labels);
    IntUnaryOperator lineOf = index -> table.lines.get(index);
    return new WideLayout(
        grid.withRows(Grid.Rows.of(turned)),
        context,
        header,
        "one column a run",
        Optional.of(lineOf));
  }

  /** Rows from the units on, and rows with a known name above them. */
  private void collect(Grid grid, Row units) {
    Optional<DataIssue> broken =
        grid.rows()
            .forEach(
                row -> {
                  if (HeaderNotes.isComment(row)) {
                    HeaderNotes.judgeComment(row, units.cells().size(), context);
                  } else if (row.number() >= units.number() || isAboutRuns(row)) {
                    rows.add(row);
                    checkLength(grid, row, units);
                  } else {
                    context.fact("row above the table that was not read", "" + row.number());
                  }
                  return rows.size() <= MOST_ROWS;
                });
    broken.ifPresent(context::add);
    if (rows.size() > MOST_ROWS) {
      context.error(
          Code.FILE_TYPE, units.number(), "", "more than " + MOST_ROWS + " rows of loads are none");
    }
  }

  private void checkLength(Grid grid, Row row, Row units) {
    int fields = row.cells().size();
    context.judgeLength(row, units.cells().size(), grid);
    for (int i = units.cells().size(); i < fields; i++) {
      if (!(row.cell(i) instanceof Cell.Blank)) {
        context.error(
            Code.COLUMN_UNKNOWN,
            row.number(),
            "column " + (i + 1),
            "there is a value in a column that names no unit");
      }
    }
  }

  private boolean isAboutRuns(Row row) {
    HeaderCell label = HeaderCell.of(row.cell(0).shown(), context.mapping());
    return label instanceof HeaderCell.Known;
  }

  private List<Row> turn(Row units) {
    boolean pairs = false;
    for (int i = 1; i < units.cells().size(); i++) {
      pairs |= layouts.pair(units.cell(i).shown()).isPresent();
    }
    HeaderCell corner = HeaderCell.of(units.cell(0).shown(), context.mapping());
    for (Row row : rows) {
      boolean isUnits = row.number() == units.number();
      labels.add(isUnits ? new Cell.Text("cell") : label(row, corner));
      lines.add(row.number());
    }
    if (pairs) {
      labels.add(new Cell.Text("board"));
      lines.add(units.number());
    }
    List<Row> turned = new ArrayList<>();
    for (int column = 1; column < units.cells().size(); column++) {
      turned.add(run(units, column, pairs));
    }
    return turned;
  }

  private Row run(Row units, int column, boolean pairs) {
    List<Cell> cells = new ArrayList<>();
    Optional<Layouts.Pair> pair = layouts.pair(units.cell(column).shown());
    for (Row row : rows) {
      boolean isUnit = row.number() == units.number() && pair.isPresent();
      cells.add(isUnit ? new Cell.Text(pair.get().cell()) : row.cell(column));
    }
    if (pairs) {
      cells.add(pair.<Cell>map(p -> new Cell.Text(p.board())).orElse(BLANK));
    }
    return new Row(units.number(), cells);
  }

  /** A number below a load with unit is a load with that unit. */
  private static Cell label(Row row, HeaderCell corner) {
    String text = row.cell(0).shown();
    boolean bare = text.matches("[+-]?[0-9][0-9.,]*");
    if (bare && corner instanceof HeaderCell.Known known && known.unit().isPresent()) {
      return new Cell.Text(text + " " + known.unit().get().symbol());
    }
    return text.isEmpty() ? BLANK : new Cell.Text(text);
  }
}
