package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.Nearest;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Columns of a table that has no layout of ours, named by whoever asks for them.
 *
 * @param rows line of each row in the file
 * @param values one number for each row
 * @param labels for each label column its text in each row
 * @param numbers for each further column of numbers its value in each row
 */
public record ResultTable(
    List<Integer> rows,
    List<Double> values,
    Map<String, List<String>> labels,
    Map<String, List<Double>> numbers) {
  private static final double SMALLEST = 1e-15;
  private static final double LARGEST = 1e15;

  public ResultTable {
    rows = List.copyOf(rows);
    values = List.copyOf(values);
  }

  /**
   * Which columns are wanted.
   *
   * @param value header of the column of numbers
   * @param labels headers of the columns of labels
   * @param numbers headers of further columns of numbers
   */
  public record Wanted(String value, List<String> labels, List<String> numbers) {
    private List<String> ofNumbers() {
      return Stream.concat(Stream.of(value), numbers.stream()).toList();
    }

    private List<String> all() {
      return Stream.concat(ofNumbers().stream(), labels.stream()).toList();
    }
  }

  /**
   * Reads a table. What the file leaves open is refused with the option that answers it.
   *
   * @param mapping what people said about the file
   */
  public static Result<ResultTable> read(
      ReceivedFile file, TableReaders readers, Mapping mapping, Wanted wanted) {
    Result<List<Grid>> opened = readers.open(file, mapping);
    if (opened.isRefused()) {
      return Result.refused(opened.issues());
    }
    TableContext context = new TableContext(file, mapping);
    Optional<ResultTable> table =
        chosen(opened.get(), context, wanted)
            .map(candidate -> new Reading(context, candidate, wanted).read());
    List<DataIssue> issues = new ArrayList<>(context.issues());
    issues.sort(Comparator.comparingInt(DataIssue::line));
    return table.isPresent() ? Result.of(table.get(), issues) : Result.refused(issues);
  }

  /** A way of reading the file, the row that names its columns, and the columns by name. */
  private record Candidate(Grid grid, Row header, List<String> names) {
    private long has(List<String> wanted) {
      return wanted.stream().filter(names::contains).count();
    }
  }

  private static Optional<Candidate> chosen(List<Grid> grids, TableContext context, Wanted wanted) {
    List<Candidate> candidates = new ArrayList<>();
    for (Grid grid : grids) {
      header(grid, context)
          .ifPresent(
              row ->
                  candidates.add(
                      new Candidate(grid, row, row.cells().stream().map(Cell::shown).toList())));
    }
    if (candidates.isEmpty()) {
      context.error(Code.FILE_EMPTY, 0, "", "the file holds no row that could name its columns");
      return Optional.empty();
    }
    long most = candidates.stream().mapToLong(c -> c.has(wanted.all())).max().orElse(0);
    List<Candidate> best = candidates.stream().filter(c -> c.has(wanted.all()) == most).toList();
    if (most == 0 || best.size() == 1) {
      return best.stream().max(Comparator.comparingInt(c -> c.names().size()));
    }
    boolean sheets = !best.get(0).grid().sheet().isEmpty();
    context.ask(
        sheets ? Setting.SHEET : Setting.SEPARATOR,
        sheets
            ? "several sheets have these columns. Which one is meant?"
            : "Which mark separates the columns?",
        best.stream()
            .map(Candidate::grid)
            .map(grid -> new Choice(sheets ? grid.sheet() : grid.separatorWord(), "this one"))
            .toList(),
        best.get(0).header().number(),
        "");
    return Optional.empty();
  }

  private static Optional<Row> header(Grid grid, TableContext context) {
    List<Row> found = new ArrayList<>();
    Optional<String> told = context.told(Setting.HEADER_ROW);
    grid.rows()
        .forEach(
            row -> {
              boolean meant =
                  told.map(number -> number.equals(String.valueOf(row.number())))
                      .orElse(!HeaderNotes.isComment(row));
              if (meant) {
                found.add(row);
              }
              return found.isEmpty();
            })
        .ifPresent(context::add);
    return found.stream().findFirst();
  }

  /** Takes the wanted columns. */
  private static final class Reading {
    private final TableContext context;
    private final Grid grid;
    private final Row header;
    private final List<String> names;
    private final Wanted wanted;
    private final List<Row> rows = new ArrayList<>();

    private Reading(TableContext context, Candidate candidate, Wanted wanted) {
      this.context = context;
      this.grid = candidate.grid();
      this.header = candidate.header();
      this.names = candidate.names();
      this.wanted = wanted;
    }

    private ResultTable read() {
      wanted.all().forEach(this::check);
      context.addIssuesOf(grid, header);
      grid.rows().forEach(this::collect).ifPresent(context::add);
      context.askForConcealed(grid, header, part -> part.column() < 0 || isWanted(part.column()));
      Map<String, List<String>> labels = new LinkedHashMap<>();
      wanted.labels().forEach(name -> labels.put(name, labels(name)));
      Numbers numbers = numbers();
      Map<String, List<Double>> others = new LinkedHashMap<>();
      wanted.numbers().forEach(name -> others.put(name, numbers(name, numbers)));
      if (rows.isEmpty()) {
        context.error(Code.FILE_EMPTY, 0, "", "the table has a header and no row");
      }
      return new ResultTable(
          rows.stream().map(Row::number).toList(),
          numbers(wanted.value(), numbers),
          labels,
          others);
    }

    private boolean isWanted(int column) {
      return column < names.size() && wanted.all().contains(names.get(column));
    }

    private void check(String name) {
      if (!names.contains(name)) {
        List<String> named = names.stream().filter(header -> !header.isEmpty()).toList();
        context.error(
            Code.COLUMN_MISSING,
            header.number(),
            name,
            "there is no column \"%s\"; %s"
                .formatted(name, Nearest.hint(name, named, "columns of the file")));
      } else if (names.lastIndexOf(name) != names.indexOf(name)) {
        context.error(
            Code.COLUMN_REPEATED,
            header.number(),
            name,
            "two columns are named \"%s\"; which one is meant is not guessed".formatted(name));
      }
    }

    private boolean collect(Row row) {
      if (HeaderNotes.isComment(row)) {
        HeaderNotes.judgeComment(row, names.size(), context);
      } else if (row.number() > header.number()) {
        context.judgeLength(row, names.size(), grid);
        boolean leftOut = row.cells().stream().anyMatch(Cell.LeftOut.class::isInstance);
        if (!leftOut) {
          rows.add(row);
        }
      }
      return true;
    }

    private Cell cell(Row row, String name) {
      int at = names.indexOf(name);
      return at < 0 ? new Cell.Unusable() : row.cell(at);
    }

    private List<String> labels(String name) {
      List<String> labels = new ArrayList<>();
      for (Row row : rows) {
        Cell cell = cell(row, name);
        labels.add(cell.shown());
        if (cell.shown().isEmpty() && !(cell instanceof Cell.Unusable)) {
          context.error(Code.VALUE_MISSING, row.number(), name, "there is no label in this row");
        }
      }
      return labels;
    }

    /** How numbers are read, by all of those that are wanted. */
    private Numbers numbers() {
      Evidence evidence = new Evidence();
      for (Row row : rows) {
        for (String name : wanted.ofNumbers()) {
          if (cell(row, name) instanceof Cell.Text text) {
            Numbers.look(evidence, text.value(), row.number(), name);
          }
        }
      }
      return Numbers.of(evidence, grid, context);
    }

    private List<Double> numbers(String name, Numbers numbers) {
      List<Double> values = new ArrayList<>();
      for (Row row : rows) {
        Cell cell = cell(row, name);
        Optional<BigDecimal> number = Optional.empty();
        if (cell instanceof Cell.Numeric numeric) {
          number = Optional.of(numeric.value());
        } else if (cell.shown().isEmpty() && !(cell instanceof Cell.Unusable)) {
          context.error(Code.VALUE_MISSING, row.number(), name, "there is no value in this row");
        } else if (!(cell instanceof Cell.Unusable)) {
          number = numbers.read(cell.shown());
          if (number.isEmpty()) {
            context.error(Code.NOT_A_NUMBER, row.number(), name, numbers.whyNot(cell.shown()));
          }
        }
        number.map(BigDecimal::doubleValue).ifPresent(v -> values.add(possible(v, row, name)));
      }
      return values;
    }

    /** Beyond this range squares and their sums lose all digits. */
    private double possible(double value, Row row, String column) {
      double size = Math.abs(value);
      if (!(size == 0 || (size >= SMALLEST && size <= LARGEST))) {
        context.error(
            Code.OUT_OF_RANGE,
            row.number(),
            column,
            value + " is impossible: a value is 0, or in size 1e-15 to 1e15; choose another unit");
      }
      return value;
    }
  }
}
