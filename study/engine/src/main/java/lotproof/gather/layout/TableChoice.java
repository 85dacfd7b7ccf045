package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.Layouts.Candidate;
import lotproof.gather.layout.Layouts.Kind;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * Which table of a file is meant. Where sheets, tables or rows that look like readings would stay
 * unread, it is asked.
 */
final class TableChoice {
  private final ReadingContext context;
  private final Layouts layouts;

  TableChoice(ReadingContext context, Layouts layouts) {
    this.context = context;
    this.layouts = layouts;
  }

  /** The table to read; nothing where that is open, or where there is none. */
  Optional<Candidate> of(List<Grid> grids) {
    List<Candidate> candidates = new ArrayList<>();
    for (Grid grid : grids) {
      layouts.best(grid).ifPresent(candidates::add);
    }
    if (candidates.isEmpty() && context.told(Setting.HEADER_ROW).isPresent()) {
      String row = context.told(Setting.HEADER_ROW).get();
      context.error(
          Code.COLUMN_MISSING,
          0,
          "",
          "row \"" + row + "\" names no columns of readings (--header-row)");
      return Optional.empty();
    } else if (candidates.isEmpty()) {
      nothingNamed(grids.get(0));
      return Optional.empty();
    }
    candidates.sort(Comparator.comparingDouble(Candidate::score).reversed());
    Candidate best = candidates.get(0);
    boolean sheets = grids.stream().anyMatch(grid -> !grid.sheet().isEmpty());
    if (sheets) {
      return sheet(grids, candidates).flatMap(taken -> table(List.of(taken.grid()), taken));
    }
    if (candidates.size() > 1 && candidates.get(1).score() == best.score()) {
      List<Choice> choices = new ArrayList<>();
      for (Candidate candidate : candidates) {
        if (candidate.score() == best.score()) {
          choices.add(new Choice(candidate.grid().separatorWord(), "columns parted by it"));
        }
      }
      context.ask(
          Setting.SEPARATOR,
          "Which mark separates the columns?",
          choices,
          best.header().number(),
          "");
      return Optional.empty();
    }
    return table(grids, best);
  }

  /** The table that is meant, where a file or sheet has several, without the rows of the others. */
  private Optional<Candidate> table(List<Grid> grids, Candidate best) {
    SortedSet<Integer> others = new TreeSet<>();
    for (Grid grid : grids) {
      for (Candidate candidate : layouts.headers(grid)) {
        boolean again = candidate.header().cells().equals(best.header().cells());
        if (candidate.isUnderstood() && !again) {
          others.add(candidate.header().number());
        }
      }
    }
    int own = best.header().number();
    others.remove(own);
    if (context.told(Setting.HEADER_ROW).isPresent()) {
      return Optional.of(without(best, others));
    }
    if (!others.isEmpty()) {
      askForTable(own, others);
      return Optional.empty();
    }
    Optional<Integer> above = above(best);
    above.ifPresent(
        row ->
            context.ask(
                Setting.HEADER_ROW,
                ("row %s stands above the row that names the columns and looks like a"
                        + " reading. Is row %s that row, and is what stands above it left out?")
                    .formatted(row, own),
                List.of(new Choice(String.valueOf(own), "it is, and rows above it are left out")),
                row,
                ""));
    return above.isPresent() ? Optional.empty() : Optional.of(best);
  }

  private void askForTable(int own, SortedSet<Integer> others) {
    SortedSet<Integer> all = new TreeSet<>(others);
    all.add(own);
    String rows = all.stream().map(String::valueOf).collect(Collectors.joining(" and "));
    context.ask(
        Setting.HEADER_ROW,
        ("rows %s name columns of readings, each for a table of its own. Which"
                + " table is meant? The others can be imported from the same file after it")
            .formatted(rows),
        all.stream()
            .map(row -> new Choice(String.valueOf(row), "the table below row " + row))
            .toList(),
        all.first(),
        "");
  }

  /** The first row above the header that looks like a reading. */
  private Optional<Integer> above(Candidate best) {
    List<Integer> found = new ArrayList<>();
    if (best.kind() != Kind.TURNED) {
      Optional<DataIssue> unused =
          best.grid()
              .rows()
              .forEach(
                  row -> {
                    boolean before = row.number() < best.header().number();
                    if (before
                        && !HeaderNotes.isComment(row)
                        && layouts.looksMeasured(row, best.header())) {
                      found.add(row.number());
                    }
                    return before && found.isEmpty();
                  });
    }
    return found.stream().findFirst();
  }

  /** The candidate without the rows that belong to tables with other headers. */
  private static Candidate without(Candidate meant, SortedSet<Integer> others) {
    int own = meant.header().number();
    int end = others.tailSet(own).isEmpty() ? Integer.MAX_VALUE : others.tailSet(own).first();
    int from = others.headSet(own).isEmpty() ? own : others.first();
    Grid grid = meant.grid();
    Grid.Rows rows =
        wants ->
            grid.rows()
                .forEach(
                    row -> {
                      boolean ofOther =
                          (row.number() >= from && row.number() < own) || row.number() >= end;
                      return ofOther || wants.test(row);
                    });
    return new Candidate(grid.withRows(rows), meant.kind(), meant.header(), meant.score());
  }

  private Optional<Candidate> sheet(List<Grid> grids, List<Candidate> candidates) {
    List<Candidate> understood = candidates.stream().filter(Candidate::isUnderstood).toList();
    List<Candidate> open = understood.isEmpty() ? candidates : understood;
    Optional<Candidate> named =
        understood.isEmpty()
            ? candidates.stream().filter(c -> c.grid().sheet().equals("readings")).findFirst()
            : Optional.empty();
    boolean told = context.told(Setting.SHEET).isPresent();
    if (named.isPresent() || open.size() == 1) {
      Candidate taken = named.orElse(open.get(0));
      List<String> others =
          grids.stream().map(Grid::sheet).filter(s -> !s.equals(taken.grid().sheet())).toList();
      context.fact("sheet", taken.grid().sheet());
      if (!others.isEmpty()) {
        context.fact("sheets that were not read", String.join(", ", others));
      }
      if (told || !isDoubtful(taken, grids)) {
        return Optional.of(taken);
      }
      return Optional.empty();
    }
    List<Choice> choices = new ArrayList<>();
    List<String> names = new ArrayList<>();
    List<Candidate> shownFirst = new ArrayList<>(open);
    shownFirst.sort(Comparator.comparingInt(c -> order(grids, c)));
    for (Candidate candidate : shownFirst) {
      Grid grid = candidate.grid();
      String hidden = grid.hidden() ? ", which is hidden" : "";
      names.add("\"" + grid.sheet() + "\"" + hidden);
      choices.add(new Choice(grid.sheet(), "the sheet of this name" + hidden));
    }
    context.ask(
        Setting.SHEET,
        "several sheets look like readings ("
            + String.join("; ", names)
            + "). Which one has the readings?",
        choices,
        0,
        "");
    return Optional.empty();
  }

  /** The place of a sheet in the workbook; hidden ones come last. */
  private static int order(List<Grid> grids, Candidate candidate) {
    int place = grids.stream().map(Grid::sheet).toList().indexOf(candidate.grid().sheet());
    return candidate.grid().hidden() ? place + grids.size() : place;
  }

  /** Whether the sheet that would be taken is hidden, or another one goes on with its readings. */
  private boolean isDoubtful(Candidate taken, List<Grid> grids) {
    String name = taken.grid().sheet();
    List<Choice> choices = List.of(new Choice(name, "take this sheet and no other"));
    if (taken.grid().hidden()) {
      context.ask(
          Setting.SHEET,
          "the only sheet that looks like readings, \"" + name + "\", is hidden. Is it meant?",
          choices,
          0,
          "");
      return true;
    }
    for (Grid grid : grids) {
      Optional<Row> row = grid.sheet().equals(name) ? Optional.empty() : measured(grid, taken);
      if (row.isPresent()) {
        context.ask(
            Setting.SHEET,
            ("sheet \"%s\" has rows that look like readings, the first in row %s, and"
                    + " no row that names its columns. Is sheet \"%s\" meant alone?")
                .formatted(grid.sheet(), row.get().number(), name),
            choices,
            0,
            "");
        return true;
      }
    }
    return false;
  }

  private Optional<Row> measured(Grid grid, Candidate like) {
    List<Row> found = new ArrayList<>();
    Optional<DataIssue> unused =
        grid.rows()
            .forEach(
                row -> {
                  if (layouts.looksMeasured(row, like.header())) {
                    found.add(row);
                  }
                  return found.isEmpty();
                });
    return found.stream().findFirst();
  }

  private void nothingNamed(Grid grid) {
    int[] first = {0};
    Optional<DataIssue> broken =
        grid.rows()
            .forEach(
                row -> {
                  first[0] = row.number();
                  return false;
                });
    if (broken.isPresent()) {
      context.add(broken.get());
      return;
    }
    if (first[0] == 0) {
      context.error(Code.FILE_EMPTY, 0, "", "the file is empty");
      return;
    }
    context.error(
        Code.COLUMN_MISSING,
        first[0],
        "",
        "no row names the columns of readings; a header such as "
            + String.join(", ", ReadingColumn.headers().subList(2, 8))
            + " is needed (layouts: docs/formats.md)");
  }
}
