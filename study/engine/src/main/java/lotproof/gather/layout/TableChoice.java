package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.UnitKind;

/**
 * Which table of a file is meant, which row of it names the columns, and with it the layout. Looks
 * at names alone, never at numbers, so that a wrong number cannot change how a file is read. Where
 * sheets, tables or rows that look like readings would stay unread, it is asked.
 */
final class TableChoice {
  private static final int ROWS = 80;
  private static final int LONGEST_NAME = 120;
  private static final int UNDERSTOOD = 10;

  private final ReadingContext context;

  TableChoice(ReadingContext context) {
    this.context = context;
  }

  /** A layout that a table can have. */
  enum Kind {
    TIDY,
    WIDE,
    TURNED
  }

  /**
   * A way of reading a table.
   *
   * @param header what names its columns, numbered as the last row of it
   * @param written the rows of the file that it stands in
   * @param score how much of it is understood
   */
  record Candidate(Grid grid, Kind kind, Row header, List<Row> written, double score) {

    /** Whether loads, outputs and more are named. */
    boolean isUnderstood() {
      return score >= UNDERSTOOD;
    }

    private boolean holds(int line) {
      return line >= written.get(0).number() && line <= line();
    }

    int line() {
      return header.number();
    }

    String sheet() {
      return grid.sheet();
    }
  }

  /** The table to read; nothing where that is open, or where there is none. */
  Optional<Candidate> of(List<Grid> grids) {
    List<Candidate> candidates = new ArrayList<>();
    grids.forEach(
        grid -> best(grid).filter(best -> isClear(grid, best)).ifPresent(candidates::add));
    candidates.sort(Comparator.comparingDouble(Candidate::score).reversed());
    if (candidates.isEmpty()) {
      nothingNamed(grids.get(0));
      return Optional.empty();
    }
    if (grids.stream().anyMatch(grid -> !grid.sheet().isEmpty())) {
      return sheet(grids, candidates).flatMap(taken -> table(List.of(taken.grid()), taken));
    }
    Candidate best = candidates.get(0);
    List<Choice> choices =
        candidates.stream()
            .filter(candidate -> candidate.score() == best.score())
            .map(c -> new Choice(c.grid().separatorWord(), "columns parted by it"))
            .toList();
    if (choices.size() > 1) {
      context.ask(Setting.SEPARATOR, "Which mark separates the columns?", choices, best.line());
      return Optional.empty();
    }
    return table(grids, best);
  }

  /** Between columns that nobody said to be parted by blanks, loads and outputs must be named. */
  private boolean isClear(Grid grid, Candidate best) {
    return grid.separator() != ' '
        || best.isUnderstood()
        || context.told(Setting.SEPARATOR).isPresent();
  }

  /** The best way of reading a grid; nothing when no row names anything. */
  private Optional<Candidate> best(Grid grid) {
    Optional<String> told = context.told(Setting.HEADER_ROW);
    return headers(grid).stream()
        .filter(c -> told.isEmpty() || told.get().equals(String.valueOf(c.line())))
        .reduce((a, b) -> b.score() > a.score() ? b : a);
  }

  /** For each of the first rows that names columns the best way of reading what is below it. */
  private List<Candidate> headers(Grid grid) {
    List<Row> head = new ArrayList<>();
    Optional<Row> unused = grid.rows().first(row -> head.add(row) && head.size() == ROWS);
    List<Candidate> all = new ArrayList<>();
    for (int i = 0; i < head.size(); i++) {
      Row row = head.get(i);
      if (!HeaderNotes.isComment(row)) {
        Candidate named = named(grid, row, List.of(row));
        Candidate turned = turned(grid, row, head.subList(i + 1, head.size()));
        all.add(turned.score() > named.score() ? turned : named);
      }
    }
    for (int rows = 2; rows <= HeaderRows.MOST; rows++) {
      for (int i = 0; i + rows <= head.size(); i++) {
        List<Row> written = List.copyOf(head.subList(i, i + rows));
        if (written.stream().noneMatch(HeaderNotes::isComment)) {
          HeaderRows.joined(context, written)
              .ifPresent(joined -> all.add(named(grid, joined, written)));
        }
      }
    }
    all.removeIf(candidate -> candidate.score() <= 0);
    return all;
  }

  private HeaderCell meaning(Cell cell) {
    return HeaderCell.of(cell.shown(), context.mapping());
  }

  private static boolean isColumn(HeaderCell cell, ReadingColumn column) {
    return cell instanceof HeaderCell.Known known && known.column() == column;
  }

  /** A row that names columns. */
  private Candidate named(Grid grid, Row row, List<Row> written) {
    List<HeaderCell> names =
        row.cells().stream()
            .filter(cell -> !cell.shown().isEmpty() && cell.shown().length() <= LONGEST_NAME)
            .map(cell -> context.header(cell.shown()))
            .toList();
    int known = 0;
    int loads = 0;
    // a row of units belongs to the names above it
    double score = HeaderRows.isOfUnits(written.get(written.size() - 1)) ? 0.1 : 0;
    for (HeaderCell name : names) {
      boolean clear = name instanceof HeaderCell.Known;
      boolean unclear = name instanceof HeaderCell.Unclear;
      known += clear || unclear ? 1 : 0;
      loads += name instanceof HeaderCell.AtLoad ? 1 : 0;
      score += clear ? 2 : unclear ? 1 : name instanceof HeaderCell.Unknown ? -0.1 : 0;
      score += hasUnit(name) ? 0.5 : 0;
    }
    if (loads >= 2 && known >= 1) {
      return new Candidate(grid, Kind.WIDE, row, written, score + UNDERSTOOD + loads);
    }
    for (ReadingColumn column : List.of(ReadingColumn.LOAD, ReadingColumn.OUTPUT)) {
      score += names.stream().anyMatch(name -> isColumn(name, column)) ? UNDERSTOOD / 2.0 : 0;
    }
    boolean enough = known >= 2 || (known == 1 && row.cells().size() > 1);
    return new Candidate(grid, Kind.TIDY, row, written, enough ? score : 0);
  }

  private static boolean hasUnit(HeaderCell name) {
    return name instanceof HeaderCell.Known known
        ? known.unit().isPresent()
        : name instanceof HeaderCell.AtLoad load && load.outputUnit().isPresent();
  }

  /** A row that names units, above rows that each begin with a load. */
  private Candidate turned(Grid grid, Row row, List<Row> below) {
    HeaderCell corner = meaning(row.cell(0));
    long units =
        row.cells().stream()
            .skip(1)
            .map(Cell::shown)
            .filter(text -> context.isUnit(text) || context.pair(text).isPresent())
            .count();
    boolean ofLoads = isColumn(corner, ReadingColumn.LOAD);
    boolean named =
        ofLoads || isColumn(corner, ReadingColumn.CELL) || row.cell(0).shown().isEmpty();
    if (!named || units == 0) {
      return new Candidate(grid, Kind.TURNED, row, List.of(row), 0);
    }
    long loads =
        below.stream()
            .map(other -> other.cell(0))
            .filter(
                label ->
                    meaning(label) instanceof HeaderCell.AtLoad
                        || (ofLoads && label.shown().matches("[+-]?[0-9][0-9.,]*")))
            .count();
    double score = loads >= 2 ? UNDERSTOOD + units + loads : 0;
    return new Candidate(grid, Kind.TURNED, row, List.of(row), score);
  }

  /** The table that is meant, where a file or sheet has several, without the rows of the others. */
  private Optional<Candidate> table(List<Grid> grids, Candidate best) {
    int own = best.line();
    TreeSet<Integer> others =
        grids.stream()
            .flatMap(grid -> headers(grid).stream())
            .filter(Candidate::isUnderstood)
            .filter(candidate -> candidate.written().size() == 1)
            .filter(candidate -> !candidate.header().cells().equals(best.header().cells()))
            .map(Candidate::line)
            .filter(line -> !best.holds(line))
            .collect(Collectors.toCollection(TreeSet::new));
    if (context.told(Setting.HEADER_ROW).isPresent()) {
      return Optional.of(without(best, others));
    }
    if (!others.isEmpty()) {
      others.add(own);
      String rows = others.stream().map(String::valueOf).collect(Collectors.joining(" and "));
      context.ask(
          Setting.HEADER_ROW,
          ("rows %s name columns of readings, each for a table of its own. Which table is meant?"
                  + " The others can be imported from the same file after it")
              .formatted(rows),
          others.stream()
              .map(row -> new Choice(String.valueOf(row), "the table below row " + row))
              .toList(),
          others.first());
      return Optional.empty();
    }
    Optional<Row> above =
        best.kind() == Kind.TURNED
            ? Optional.empty()
            : best.grid()
                .rows()
                .first(row -> row.number() >= own || isReadingAbove(row, best.header()))
                .filter(row -> row.number() < own);
    if (above.isEmpty()) {
      return Optional.of(best);
    }
    int line = above.get().number();
    context.ask(
        Setting.HEADER_ROW,
        ("row %s stands above the row that names the columns and looks like a reading."
                + " Is row %s that row, and is what stands above it left out?")
            .formatted(line, own),
        List.of(new Choice(String.valueOf(own), "it is, and rows above it are left out")),
        line);
    return Optional.empty();
  }

  private boolean isReadingAbove(Row row, Row header) {
    return !HeaderNotes.isComment(row) && looksMeasured(row, header);
  }

  /** Whether a serial of the study and a number stand in their columns. */
  private boolean looksMeasured(Row row, Row header) {
    if (row.cells().stream().noneMatch(cell -> context.isUnit(cell.shown()))) {
      return false;
    }
    boolean unit = false;
    boolean number = false;
    for (int i = 0; i < header.cells().size(); i++) {
      String text = row.cell(i).shown();
      HeaderCell column = meaning(header.cell(i));
      unit |= isColumn(column, ReadingColumn.CELL) && context.is(UnitKind.CELL, text);
      unit |= isColumn(column, ReadingColumn.BOARD) && context.is(UnitKind.BOARD, text);
      boolean ofOutput =
          isColumn(column, ReadingColumn.OUTPUT) || column instanceof HeaderCell.AtLoad;
      number |= ofOutput && text.matches("[+-]?[0-9][0-9.,'eE+ -]*");
    }
    return unit && number;
  }

  /** The candidate without the rows that belong to tables with other headers. */
  private static Candidate without(Candidate meant, NavigableSet<Integer> others) {
    int own = meant.line();
    int end = others.tailSet(own).isEmpty() ? Integer.MAX_VALUE : others.tailSet(own).first();
    int first = meant.written().get(0).number();
    int from = others.headSet(own).isEmpty() ? own : others.first();
    Grid grid = meant.grid();
    Predicate<Row> ofOther =
        row -> (row.number() >= from && row.number() < first) || row.number() >= end;
    Grid.Rows rows = wants -> grid.rows().forEach(row -> ofOther.test(row) || wants.test(row));
    return new Candidate(
        grid.withRows(rows), meant.kind(), meant.header(), meant.written(), meant.score());
  }

  private Optional<Candidate> sheet(List<Grid> grids, List<Candidate> candidates) {
    List<Candidate> understood = candidates.stream().filter(Candidate::isUnderstood).toList();
    List<Candidate> open = new ArrayList<>(understood.isEmpty() ? candidates : understood);
    if (understood.isEmpty() && open.stream().anyMatch(c -> c.sheet().equals("readings"))) {
      open.removeIf(c -> !c.sheet().equals("readings"));
    }
    if (open.size() == 1) {
      Candidate taken = open.get(0);
      List<String> others =
          grids.stream().map(Grid::sheet).filter(s -> !s.equals(taken.sheet())).toList();
      context.fact("sheet", taken.sheet());
      if (!others.isEmpty()) {
        context.fact("sheets that were not read", String.join(", ", others));
      }
      boolean clear = context.told(Setting.SHEET).isPresent() || !isDoubtful(taken, grids);
      return clear ? Optional.of(taken) : Optional.empty();
    }
    List<String> order = grids.stream().map(Grid::sheet).toList();
    open.sort(
        Comparator.comparing((Candidate c) -> c.grid().hidden())
            .thenComparing(c -> order.indexOf(c.sheet())));
    List<Choice> choices = new ArrayList<>();
    List<String> names = new ArrayList<>();
    for (Candidate candidate : open) {
      String hidden = candidate.grid().hidden() ? ", which is hidden" : "";
      names.add("\"" + candidate.sheet() + "\"" + hidden);
      choices.add(new Choice(candidate.sheet(), "the sheet of this name" + hidden));
    }
    context.ask(
        Setting.SHEET,
        "several sheets look like readings (%s). Which one has the readings?"
            .formatted(String.join("; ", names)),
        choices,
        0);
    return Optional.empty();
  }

  /** Whether the sheet that would be taken is hidden, or another one goes on with its readings. */
  private boolean isDoubtful(Candidate taken, List<Grid> grids) {
    String name = taken.sheet();
    List<Choice> choices = List.of(new Choice(name, "take this sheet and no other"));
    if (taken.grid().hidden()) {
      context.ask(
          Setting.SHEET,
          "the only sheet that looks like readings, \"" + name + "\", is hidden. Is it meant?",
          choices,
          0);
      return true;
    }
    for (Grid grid : grids) {
      Optional<Row> row =
          grid.sheet().equals(name)
              ? Optional.empty()
              : grid.rows().first(other -> looksMeasured(other, taken.header()));
      if (row.isPresent()) {
        context.ask(
            Setting.SHEET,
            ("sheet \"%s\" has rows that look like readings, the first in row %s, and no row that"
                    + " names its columns. Is sheet \"%s\" meant alone?")
                .formatted(grid.sheet(), row.get().number(), name),
            choices,
            0);
        return true;
      }
    }
    return false;
  }

  private void nothingNamed(Grid grid) {
    if (grid.separator() == ' ' && context.told(Setting.SEPARATOR).isEmpty()) {
      context.error(
          Code.FILE_TYPE,
          1,
          "",
          "there is neither comma nor semicolon nor tab nor bar, and no line of words names columns"
              + " of readings; is it the log of a terminal? Say --captures for one with marks of"
              + " runs and loads, or --run, --step, --cell, --board and --load for one reading");
      return;
    }
    Optional<String> told = context.told(Setting.HEADER_ROW);
    if (told.isPresent()) {
      context.error(
          Code.COLUMN_MISSING,
          0,
          "",
          "row \"" + told.get() + "\" names no columns of readings (--header-row)");
      return;
    }
    List<Row> first = new ArrayList<>();
    Optional<DataIssue> broken = grid.rows().forEach(row -> !first.add(row));
    if (broken.isPresent()) {
      context.add(broken.get());
    } else if (first.isEmpty()) {
      context.error(Code.FILE_EMPTY, 0, "", "the file is empty");
    } else {
      context.error(
          Code.COLUMN_MISSING,
          first.get(0).number(),
          "",
          "no row names the columns of readings; a header such as "
              + String.join(", ", ReadingColumn.headers().subList(2, 8))
              + " is needed (layouts: docs/formats.md), or say which columns are these, such as"
              + " --column \"NAME=cell\"");
    }
  }
}
