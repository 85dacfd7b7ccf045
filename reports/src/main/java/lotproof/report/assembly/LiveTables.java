package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntFunction;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.FormulaValue;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;

/**
 * The tables of a report while numbers in them become formulas. A number becomes one only where the
 * formula gives the program's own value, to 1e-9 of it; elsewhere it stays what it was, so that a
 * formula never says something else than the report.
 */
final class LiveTables {
  private static final double RELATIVE = 1e-9;
  private static final double NEAR_ZERO = 1e-12;

  private final Map<String, Table> tables = new LinkedHashMap<>();

  LiveTables(List<Section> sections) {
    for (Section section : sections) {
      for (Block block : section.blocks()) {
        if (block instanceof Table table) {
          tables.put(table.tableId(), table);
        }
      }
    }
  }

  /** The table of that id, as it is now. */
  Optional<Table> table(String id) {
    return Optional.ofNullable(tables.get(id));
  }

  /** The sections with the tables as they are now. */
  List<Section> in(List<Section> sections) {
    return sections.stream()
        .map(
            section ->
                new Section(
                    section.id(),
                    section.title(),
                    section.intro(),
                    section.blocks().stream().map(this::current).toList()))
        .toList();
  }

  private Block current(Block block) {
    return block instanceof Table table ? tables.getOrDefault(table.tableId(), table) : block;
  }

  /** The number in a cell, if there is one. */
  OptionalDouble number(String id, String column, int row) {
    Table table = tables.get(id);
    return table == null || row >= table.rows().size()
        ? OptionalDouble.empty()
        : FormulaValue.numberIn(table.rows().get(row).cells().get(table.columnIndex(column)));
  }

  /** The words in a cell; empty where there are none. */
  String words(String id, String column, int row) {
    Table table = tables.get(id);
    return table != null
            && table.rows().get(row).cells().get(table.columnIndex(column)) instanceof Cell.Text t
        ? t.text()
        : "";
  }

  /** Adds a column behind another one. */
  void insert(String id, String after, Column column, IntFunction<Cell> cell) {
    Table table = tables.get(id);
    if (table == null) {
      return;
    }
    int at = table.columnIndex(after) + 1;
    List<Column> columns = new ArrayList<>(table.columns());
    columns.add(at, column);
    List<Row> rows = new ArrayList<>();
    for (int r = 0; r < table.rows().size(); r++) {
      List<Cell> cells = new ArrayList<>(table.rows().get(r).cells());
      cells.add(at, cell.apply(r));
      rows.add(new Row(cells));
    }
    tables.put(id, changed(table, columns, rows));
  }

  /** Makes the numbers of a column live. */
  void set(String id, String column, IntFunction<Optional<Formula>> formula) {
    set(id, Map.of(column, formula));
  }

  /** Makes the numbers of some columns live, none of which refers to another one's numbers. */
  void set(String id, Map<String, IntFunction<Optional<Formula>>> byColumn) {
    Table table = tables.get(id);
    if (table == null) {
      return;
    }
    FormulaValue values = new FormulaValue(List.copyOf(tables.values()));
    List<Row> rows = new ArrayList<>();
    for (int r = 0; r < table.rows().size(); r++) {
      List<Cell> cells = new ArrayList<>(table.rows().get(r).cells());
      for (int c = 0; c < cells.size(); c++) {
        IntFunction<Optional<Formula>> maker = byColumn.get(table.columns().get(c).key());
        OptionalDouble number = FormulaValue.numberIn(cells.get(c));
        if (maker != null && number.isPresent()) {
          double value = number.getAsDouble();
          cells.set(
              c,
              maker
                  .apply(r)
                  .filter(formula -> agrees(value, values, formula))
                  .map(formula -> Cell.computed(value, formula))
                  .orElse(Cell.number(value)));
        }
      }
      rows.add(new Row(cells));
    }
    tables.put(id, changed(table, table.columns(), rows));
  }

  /** Whether a formula gives a value, with the tables as they are now. */
  boolean agrees(double value, Formula formula) {
    return agrees(value, new FormulaValue(List.copyOf(tables.values())), formula);
  }

  private static boolean agrees(double value, FormulaValue values, Formula formula) {
    double again = values.of(formula);
    return Math.abs(again - value) <= Math.max(NEAR_ZERO, RELATIVE * Math.abs(value));
  }

  private static Table changed(Table table, List<Column> columns, List<Row> rows) {
    return new Table(table.tableId(), table.title(), table.role(), columns, rows, table.note());
  }
}
