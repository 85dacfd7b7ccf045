package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.Nearest;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Separator;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Columns of a table that has no layout of ours, named by whoever asks for them.
 *
 * @param value header of the column of numbers; "value" where the file names none
 * @param rows line of each row in the file
 * @param values one number for each row
 * @param lines each row with all its columns, as text
 * @param labels for each label column its text in each row
 * @param numbers for each further column of numbers its value in each row
 */
public record ResultTable(
    String value,
    List<Integer> rows,
    List<Double> values,
    List<String> lines,
    Map<String, List<String>> labels,
    Map<String, List<Double>> numbers) {
  /** The row that names the columns stands among the first. */
  private static final int HEADER_ROWS = 80;

  private static final double SMALLEST = 1e-15;
  private static final double LARGEST = 1e15;

  /** What a column without a header is called. */
  private static final String ONLY = "value";

  private static final Pattern NUMBER =
      Pattern.compile("[-+−]?[.,]?\\d[\\d.,' ]*(?:[eE][-+]?\\d+)?");

  public ResultTable {
    rows = List.copyOf(rows);
    values = List.copyOf(values);
    lines = List.copyOf(lines);
  }

  /**
   * Which columns are wanted.
   *
   * @param value header of the column of numbers; empty for the only column of a file
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
    boolean decimalCommas =
        mapping.setting(Setting.DECIMAL).filter("comma"::equals).isPresent()
            && opened.value().filter(ResultTable::hasOnlyCommas).isPresent();
    boolean blanks = opened.value().filter(grids -> grids.get(0).separator() == ' ').isPresent();
    boolean one = wanted.value().isEmpty() && (decimalCommas || blanks);
    if ((hasNoSeparator(opened) || one) && mapping.setting(Setting.SEPARATOR).isEmpty()) {
      // one column; what separates it from none does not matter
      opened = readers.open(file, mapping.with(Setting.SEPARATOR, Separator.TAB.word()));
    }
    if (opened.isRefused()) {
      return Result.refused(opened.issues());
    }
    TableContext context = new TableContext(file, mapping);
    Optional<ResultTable> table =
        wanted.value().isEmpty()
            ? onlyColumn(opened.get(), context)
                .map(
                    only ->
                        only.read(
                            context,
                            new Wanted(only.names.get(0), wanted.labels(), wanted.numbers())))
            : chosen(opened.get(), context, wanted).map(meant -> meant.read(context, wanted));
    List<DataIssue> issues = context.byLine();
    return table.isPresent() ? Result.of(table.get(), issues) : Result.refused(issues);
  }

  /**
   * The question that serials in more than one lot raise; empty when there are none. A unit belongs
   * to one lot; a serial that stands in two is two units, or a mistake, and which is not guessed.
   *
   * @param file the file's name
   * @param serials header of the column of serials
   * @param lots header of the column of lots
   * @param option what says that serials start again in every lot
   */
  public Optional<DataIssue> serialsInLots(
      String file, String serials, String lots, String option) {
    List<String> serialOf = labels.getOrDefault(serials, List.of());
    List<String> lotOf = labels.getOrDefault(lots, List.of());
    Map<String, Map<String, Integer>> rowsOfLots = new LinkedHashMap<>();
    for (int i = 0; i < serialOf.size(); i++) {
      rowsOfLots
          .computeIfAbsent(serialOf.get(i), serial -> new LinkedHashMap<>())
          .putIfAbsent(lotOf.get(i), rows.get(i));
    }
    rowsOfLots.values().removeIf(lotsOfOne -> lotsOfOne.size() < 2);
    int more = rowsOfLots.size() - 1;
    return rowsOfLots.entrySet().stream()
        .findFirst()
        .map(
            first -> {
              String places =
                  first.getValue().entrySet().stream()
                      .map(lot -> "lot " + lot.getKey() + " (line " + lot.getValue() + ")")
                      .collect(Collectors.joining(", "));
              String others =
                  switch (more) {
                    case 0 -> "";
                    case 1 -> ", and 1 more serial does likewise";
                    default -> ", and " + more + " more serials do likewise";
                  };
              return DataIssue.error(
                  Code.AMBIGUOUS,
                  file,
                  List.copyOf(first.getValue().values()).get(1),
                  serials,
                  first.getKey(),
                  ("the serial stands in %s%s; a unit belongs to one lot: if serials start again in"
                          + " every lot, say %s; if a lot is wrong, correct it in the file")
                      .formatted(places, others, option));
            });
  }

  private static boolean hasNoSeparator(Result<List<Grid>> opened) {
    return opened.isRefused()
        && opened.issues().stream()
            .anyMatch(issue -> issue.code() == Code.FILE_TYPE && issue.line() == 1);
  }

  private static boolean hasOnlyCommas(List<Grid> grids) {
    return grids.size() == 1 && grids.get(0).separator() == Separator.COMMA.mark();
  }

  /** The only column of a file: named by its first row, or numbers from there on. */
  private static Optional<Candidate> onlyColumn(List<Grid> grids, TableContext context) {
    Optional<Row> first =
        grids.size() == 1
            ? grids.get(0).rows().first(row -> !HeaderNotes.isComment(row))
            : Optional.empty();
    if (first.filter(row -> row.cells().size() == 1).isEmpty()) {
      String commas =
          hasOnlyCommas(grids)
              ? "; if the commas are decimal marks of one column, add --decimal comma"
              : "";
      context.error(Code.COLUMN_MISSING, 0, "", "name the column of numbers with --value" + commas);
      return Optional.empty();
    }
    Cell cell = first.get().cell(0);
    boolean headed = !(cell instanceof Cell.Numeric) && !NUMBER.matcher(cell.shown()).matches();
    Row header = headed ? first.get() : new Row(0, List.of(new Cell.Text(ONLY)));
    return Optional.of(new Candidate(grids.get(0), header, List.of(headed ? cell.shown() : ONLY)));
  }

  private static String line(Row row) {
    return row.cells().stream().map(Cell::shown).collect(Collectors.joining("\n"));
  }

  /**
   * What rows that stand in the table more than once raise: a warning, a question where there are
   * many; empty when there are none.
   *
   * @param file the file's name
   * @param units headers of the columns that name a unit
   * @param option what says that the rows were measured anew
   */
  public Optional<DataIssue> copies(String file, List<String> units, String option) {
    List<String> unitOf =
        IntStream.range(0, rows.size())
            .mapToObj(
                i ->
                    units.stream()
                        .map(unit -> labels.getOrDefault(unit, List.of()).get(i))
                        .collect(Collectors.joining("\n")))
            .toList();
    return CopiedRows.of(rows, values, unitOf, lines)
        .map(
            found -> {
              String message =
                  "%s; each counts as measured. Delete copies; if %s measured anew, say %s"
                      .formatted(
                          found.rows() == 1
                              ? "this row repeats line %d".formatted(found.first())
                              : "%d rows repeat others, this one line %d"
                                  .formatted(found.rows(), found.first()),
                          found.rows() == 1 ? "it was" : "they were",
                          option);
              return found.many()
                  ? DataIssue.error(Code.DUPLICATE_READING, file, found.line(), "", "", message)
                  : DataIssue.warning(Code.DUPLICATE_READING, file, found.line(), "", "", message);
            });
  }

  /** The way of reading the file, and the row of it, that names most of what is wanted. */
  private static Optional<Candidate> chosen(List<Grid> grids, TableContext context, Wanted wanted) {
    Optional<String> told = context.told(Setting.HEADER_ROW);
    List<Candidate> candidates = new ArrayList<>();
    for (Grid grid : grids) {
      List<Candidate> ofGrid = new ArrayList<>();
      grid.rows()
          .forEach(
              row -> {
                if (told.map(number -> number.equals(String.valueOf(row.number())))
                    .orElse(!HeaderNotes.isComment(row))) {
                  ofGrid.add(Candidate.of(grid, row));
                }
                return ofGrid.size() < HEADER_ROWS;
              })
          .ifPresent(context::add);
      ofGrid.stream()
          .reduce((a, b) -> b.has(wanted.all()) > a.has(wanted.all()) ? b : a)
          .ifPresent(candidates::add);
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
        best.get(0).header().number());
    return Optional.empty();
  }

  /** A way of reading the file, the row that names its columns, and the columns by name. */
  private record Candidate(Grid grid, Row header, List<String> names) {
    private static Candidate of(Grid grid, Row header) {
      return new Candidate(grid, header, header.cells().stream().map(Cell::shown).toList());
    }

    private long has(List<String> wanted) {
      return wanted.stream().filter(name -> index(name) >= 0).count();
    }

    /** Where a column stands: the one of exactly this name, or the only one but for its unit. */
    private int index(String wanted) {
      if (names.contains(wanted) || wanted.isEmpty()) {
        return names.indexOf(wanted);
      }
      List<String> plain = names.stream().map(Candidate::withoutUnit).toList();
      int at = plain.indexOf(withoutUnit(wanted));
      return at == plain.lastIndexOf(withoutUnit(wanted)) ? at : -1;
    }

    private static String withoutUnit(String name) {
      Matcher bracketed = HeaderCell.BRACKETED.matcher(name);
      boolean unit = name.length() <= HeaderCell.LONGEST && bracketed.matches();
      return ColumnSynonyms.plain(unit ? bracketed.group(1) : name);
    }

    private ResultTable read(TableContext context, Wanted wanted) {
      wanted.all().forEach(name -> check(name, context));
      context.addIssuesOf(grid, header);
      List<Row> rows = new ArrayList<>();
      List<Integer> totals = new ArrayList<>();
      grid.rows().forEach(row -> collect(row, rows, totals, context)).ifPresent(context::add);
      context.warnOfTotals(totals);
      context.askForConcealed(
          grid,
          header,
          part ->
              part.column() < 0
                  || wanted.all().stream().anyMatch(name -> index(name) == part.column()));
      Map<String, List<String>> labels = new LinkedHashMap<>();
      for (String name : wanted.labels()) {
        rows.forEach(row -> isThere(row, name, "label", context));
        labels.put(name, rows.stream().map(row -> cell(row, name).shown()).toList());
      }
      Evidence evidence = new Evidence();
      for (Row row : rows) {
        for (String name : wanted.ofNumbers()) {
          if (cell(row, name) instanceof Cell.Text text) {
            Numbers.look(evidence, Numbers.Written.of(text.value()).number(), row.number(), name);
          }
        }
      }
      Numbers format = Numbers.of(evidence, grid, context);
      Map<String, List<Double>> numbers = new LinkedHashMap<>();
      for (String name : wanted.ofNumbers()) {
        String unit = unit(rows, name);
        numbers.put(
            name,
            rows.stream()
                .flatMap(row -> number(row, name, format, unit, context).stream())
                .toList());
      }
      if (rows.isEmpty()) {
        context.error(Code.FILE_EMPTY, 0, "", "the table has a header and no row");
      }
      List<Double> values = numbers.getOrDefault(wanted.value(), List.of());
      numbers.keySet().retainAll(wanted.numbers());
      return new ResultTable(
          wanted.value(),
          rows.stream().map(Row::number).toList(),
          values,
          rows.stream().map(ResultTable::line).toList(),
          labels,
          numbers);
    }

    private void check(String name, TableContext context) {
      if (index(name) < 0) {
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

    private boolean collect(Row row, List<Row> rows, List<Integer> totals, TableContext context) {
      if (HeaderNotes.isComment(row)) {
        HeaderNotes.judgeComment(row, names.size(), context);
      } else if (row.number() > header.number() && !HeaderNotes.same(row, header)) {
        if (HeaderNotes.isTotal(row)) {
          totals.add(row.number());
          return true;
        } else if (rows.isEmpty() && HeaderRows.isOfUnits(row)) {
          return true;
        }
        context.judgeLength(row, names.size(), grid);
        if (row.cells().stream().noneMatch(Cell.LeftOut.class::isInstance)) {
          rows.add(row);
        }
      }
      return true;
    }

    private Cell cell(Row row, String name) {
      int at = index(name);
      return at < 0 ? new Cell.Unusable() : row.cell(at);
    }

    /** The unit that stands behind every number of a column; empty where there is none. */
    private String unit(List<Row> rows, String name) {
      List<String> units =
          rows.stream()
              .map(row -> Numbers.Written.of(cell(row, name).shown()).unit())
              .distinct()
              .toList();
      return units.size() == 1 ? units.get(0) : "";
    }

    /** Whether a cell holds something; one that is unusable has its issue already. */
    private boolean isThere(Row row, String name, String what, TableContext context) {
      boolean empty = cell(row, name).shown().isEmpty();
      if (empty && !(cell(row, name) instanceof Cell.Unusable)) {
        context.error(
            Code.VALUE_MISSING, row.number(), name, "there is no " + what + " in this row");
      }
      return !empty;
    }

    private Optional<Double> number(
        Row row, String name, Numbers format, String unit, TableContext context) {
      Cell cell = cell(row, name);
      if (!(cell instanceof Cell.Numeric) && !isThere(row, name, "value", context)) {
        return Optional.empty();
      }
      Numbers.Written written = Numbers.Written.of(cell.shown());
      Optional<BigDecimal> number =
          cell instanceof Cell.Numeric numeric
              ? Optional.of(numeric.value())
              : format.read(written.unit().equals(unit) ? written.number() : cell.shown());
      if (number.isEmpty()) {
        boolean word = cell.shown().chars().noneMatch(Character::isDigit);
        String why = format.whyNot(cell.shown());
        context.error(
            Code.NOT_A_NUMBER,
            row.number(),
            name,
            word
                ? why + "; rows without a value are left out with --skip-rows " + row.number()
                : why);
      }
      double size = Math.abs(number.map(BigDecimal::doubleValue).orElse(0.0));
      // beyond this range squares and their sums lose all digits
      if (!(size == 0 || (size >= SMALLEST && size <= LARGEST))) {
        context.error(
            Code.OUT_OF_RANGE,
            row.number(),
            name,
            number.get().doubleValue()
                + " is impossible: a value is 0, or in size 1e-15 to 1e15; choose another unit");
      }
      return number.map(BigDecimal::doubleValue);
    }
  }
}
