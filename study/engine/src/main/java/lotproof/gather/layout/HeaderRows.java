package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;

/**
 * Columns that are named by two or three rows together: a name above its unit, a name that reaches
 * over several columns (merged cells) above what each of them is. Of what the texts over a column
 * can mean together, the meaning is taken of which most is known; a lower row counts before an
 * upper one.
 */
final class HeaderRows {
  static final int MOST = 3;

  /** No unit of measure is spelled longer, brackets included. */
  private static final int LONGEST_UNIT = 24;

  private final ReadingContext context;
  private final List<Row> rows;

  private HeaderRows(ReadingContext context, List<Row> rows) {
    this.context = context;
    this.rows = rows;
  }

  /** The rows as one; empty where the lower ones hold data. */
  static Optional<Row> joined(ReadingContext context, List<Row> rows) {
    HeaderRows header = new HeaderRows(context, rows);
    Row last = rows.get(rows.size() - 1);
    boolean data =
        rows.stream()
            .skip(1)
            .flatMap(row -> row.cells().stream())
            .anyMatch(cell -> !header.mayName(cell));
    int columns = rows.stream().mapToInt(row -> row.cells().size()).max().orElse(0);
    return data
        ? Optional.empty()
        : Optional.of(
            new Row(
                last.number(),
                IntStream.range(0, columns).mapToObj(i -> Cell.of(header.name(i))).toList()));
  }

  /** Neither a serial nor a number, unless it is a load of the study. */
  private boolean mayName(Cell cell) {
    String text = cell.shown();
    return (cell instanceof Cell.Text || cell instanceof Cell.Blank || isLoad(cell))
        && !context.isUnit(text)
        && (!text.matches("[+-]?[0-9.,]+") || isLoad(cell));
  }

  private boolean isLoad(Cell cell) {
    return context.header(cell.shown()) instanceof HeaderCell.AtLoad;
  }

  private String name(int column) {
    List<String> own = new ArrayList<>();
    List<String> all = new ArrayList<>();
    for (int i = 0; i < rows.size(); i++) {
      String text = rows.get(i).cell(column).shown();
      boolean below =
          rows.subList(i + 1, rows.size()).stream()
              .anyMatch(row -> !row.cell(column).shown().isEmpty());
      if (!text.isEmpty()) {
        own.add(text);
      } else if (below) {
        text = spanning(rows.get(i), column);
      }
      if (!text.isEmpty()) {
        all.add(text);
      }
    }
    if (all.isEmpty()) {
      return "";
    }
    List<String> options = options(own, all);
    String best = options.isEmpty() ? all.get(all.size() - 1) : options.get(0);
    for (String name : options) {
      best = known(name) > known(best) ? name : best;
    }
    return best;
  }

  /** The text of the nearest cell to the left that holds something: it may reach over this one. */
  private static String spanning(Row row, int column) {
    return IntStream.iterate(column - 1, i -> i >= 0, i -> i - 1)
        .mapToObj(i -> row.cell(i).shown())
        .filter(text -> !text.isEmpty())
        .findFirst()
        .orElse("");
  }

  /** What the texts over a column can mean together. */
  private List<String> options(List<String> own, List<String> all) {
    List<String> names = new ArrayList<>(all);
    Optional<String> unit =
        all.stream().skip(1).filter(HeaderRows::isUnit).findFirst().map(HeaderRows::bare);
    names.removeIf(HeaderRows::isUnit);
    String lowest = names.isEmpty() ? "" : names.get(names.size() - 1);
    boolean number = lowest.matches("[0-9.,]+");
    // below a number that is a load stands the unit of the load, or that of its outputs
    Optional<String> ofLoad =
        unit.filter(text -> number && HeaderCell.unit(ReadingColumn.LOAD, text).isPresent());
    String loadUnit =
        ofLoad.or(() -> unitOf(all, ReadingColumn.LOAD)).map(text -> " " + text).orElse("");
    Optional<String> output =
        unit.filter(text -> ofLoad.isEmpty()).or(() -> unitOf(all, ReadingColumn.OUTPUT));
    List<String> options = new ArrayList<>();
    Stream.concat(
            Stream.of(lowest + loadUnit, lowest, number ? "" : String.join(" ", names)),
            own.stream().filter(text -> !number && !isUnit(text)))
        .filter(name -> !name.isBlank())
        .forEach(
            name -> {
              output.ifPresent(text -> options.add(name + " [" + text + "]"));
              options.add(name);
            });
    return options;
  }

  /** The unit that one of the texts names for a column. */
  private Optional<String> unitOf(List<String> texts, ReadingColumn column) {
    return texts.stream()
        .map(context::header)
        .flatMap(
            cell ->
                cell instanceof HeaderCell.Known known && known.column() == column
                    ? known.unit().stream()
                    : Stream.empty())
        .map(Unit::symbol)
        .findFirst();
  }

  private static String bare(String text) {
    return text.replaceAll("^[\\[(]\\s*|\\s*[\\])]$", "");
  }

  /** Whether a row holds units alone. */
  static boolean isOfUnits(Row row) {
    return row.cells().stream()
        .allMatch(
            cell ->
                cell instanceof Cell.Blank || (cell instanceof Cell.Text && isUnit(cell.shown())));
  }

  private static boolean isUnit(String text) {
    return text.length() <= LONGEST_UNIT
        && Stream.of(UnitsOfMeasure.Dimension.values())
            .anyMatch(dimension -> UnitsOfMeasure.spelled(dimension, bare(text)).isPresent());
  }

  /** How much of a name is known: nothing, something, all but its unit, all. */
  private int known(String name) {
    HeaderCell cell = context.header(name);
    if (cell instanceof HeaderCell.Known known) {
      return known.column().unit().isEmpty() || known.unit().isPresent() ? 3 : 2;
    } else if (cell instanceof HeaderCell.AtLoad load) {
      return load.outputUnit().isPresent() ? 3 : 2;
    }
    return cell instanceof HeaderCell.Unknown ? 0 : cell instanceof HeaderCell.Unclear ? 1 : 3;
  }
}
