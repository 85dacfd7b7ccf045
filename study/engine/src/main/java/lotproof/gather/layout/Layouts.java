package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Finds the row that names the columns, and with it the layout. Looks at names alone, never at
 * numbers, so that a wrong number cannot change how a file is read.
 */
final class Layouts {
  private static final int ROWS = 80;
  private static final int UNDERSTOOD = 10;
  private static final Pattern PAIR =
      Pattern.compile("(.+?)\\s*(?:/|\\+|&|\\bx\\b|\\u00D7|\\|)\\s*(.+)");

  /** A layout that a table can have. */
  enum Kind {
    TIDY,
    WIDE,
    TURNED
  }

  /**
   * A way of reading a table.
   *
   * @param score how much of it is understood
   */
  record Candidate(Grid grid, Kind kind, Row header, double score) {
    /** Whether loads, outputs and more are named. */
    boolean isUnderstood() {
      return score >= UNDERSTOOD;
    }

    /** Whether its columns are named in a row of this number. */
    boolean isIn(String row) {
      return row.equals(String.valueOf(header.number()));
    }
  }

  private final Mapping mapping;
  private final Set<String> cells = new HashSet<>();
  private final Set<String> boards = new HashSet<>();

  Layouts(Study study, Mapping mapping) {
    this.mapping = mapping;
    cells.addAll(study.units().serials(UnitKind.CELL));
    boards.addAll(study.units().serials(UnitKind.BOARD));
    study.units().checkStandard().ifPresent(check -> cells.add(check.cell()));
    study.units().checkStandard().ifPresent(check -> boards.add(check.board()));
  }

  /** The best way of reading a grid; nothing when no row names anything. */
  Optional<Candidate> best(Grid grid) {
    return headers(grid).stream()
        .filter(c -> mapping.setting(Setting.HEADER_ROW).filter(r -> !c.isIn(r)).isEmpty())
        .reduce((a, b) -> b.score() > a.score() ? b : a);
  }

  /** For each of the first rows that names columns the best way of reading what is below it. */
  List<Candidate> headers(Grid grid) {
    List<Row> head = new ArrayList<>();
    Optional<DataIssue> unused =
        grid.rows()
            .forEach(
                row -> {
                  head.add(row);
                  return head.size() < ROWS;
                });
    List<Candidate> all = new ArrayList<>();
    for (int i = 0; i < head.size(); i++) {
      Row row = head.get(i);
      if (!HeaderNotes.isComment(row)) {
        Candidate named = named(grid, row);
        Candidate turned = turned(grid, head, i);
        Candidate better = turned.score() > named.score() ? turned : named;
        if (better.score() > 0) {
          all.add(better);
        }
      }
    }
    return all;
  }

  /**
   * Whether a row looks like a reading or a run below a header: a serial of the study and a number
   * stand in their columns.
   */
  boolean looksMeasured(Row row, Row header) {
    boolean namesUnit =
        row.cells().stream()
            .map(Cell::shown)
            .anyMatch(t -> cells.contains(t) || boards.contains(t));
    if (!namesUnit) {
      return false;
    }
    boolean unit = false;
    boolean number = false;
    for (int i = 0; i < header.cells().size(); i++) {
      String text = row.cell(i).shown();
      HeaderCell column = HeaderCell.of(header.cell(i).shown(), mapping);
      if (column instanceof HeaderCell.Known known) {
        unit |= known.column() == ReadingColumn.CELL && cells.contains(text);
        unit |= known.column() == ReadingColumn.BOARD && boards.contains(text);
        number |= known.column() == ReadingColumn.OUTPUT && isNumber(text);
      }
      number |= column instanceof HeaderCell.AtLoad && isNumber(text);
    }
    return unit && number;
  }

  private static boolean isNumber(String text) {
    return text.matches("[+-]?[0-9][0-9.,'eE+ -]*");
  }

  /** A row that names columns. */
  private Candidate named(Grid grid, Row row) {
    int known = 0;
    int loads = 0;
    double score = 0;
    boolean load = false;
    boolean output = false;
    for (Cell cell : row.cells()) {
      String text = cell.shown();
      if (text.isEmpty() || text.length() > 120) {
        continue;
      }
      HeaderCell header = HeaderCell.of(text, mapping);
      if (header instanceof HeaderCell.Known it) {
        load |= it.column() == ReadingColumn.LOAD;
        output |= it.column() == ReadingColumn.OUTPUT;
        known++;
        score += 2;
      } else if (header instanceof HeaderCell.AtLoad) {
        loads++;
      } else if (header instanceof HeaderCell.Unclear) {
        known++;
        score += 1;
      } else if (header instanceof HeaderCell.Unknown) {
        score -= 0.1;
      }
    }
    if (loads >= 2 && known >= 1) {
      return new Candidate(grid, Kind.WIDE, row, score + UNDERSTOOD + loads);
    }
    score += load && output ? UNDERSTOOD : load || output ? UNDERSTOOD / 2.0 : 0;
    boolean one = known >= 2 || (known == 1 && row.cells().size() > 1);
    return new Candidate(grid, Kind.TIDY, row, one ? score : 0);
  }

  /** A row that names units, above rows that each begin with a load. */
  private Candidate turned(Grid grid, List<Row> head, int at) {
    Row row = head.get(at);
    HeaderCell corner = HeaderCell.of(row.cell(0).shown(), mapping);
    int units = 0;
    for (int i = 1; i < row.cells().size(); i++) {
      String text = row.cell(i).shown();
      units += cells.contains(text) || boards.contains(text) || pair(text).isPresent() ? 1 : 0;
    }
    int loads = 0;
    for (int i = at + 1; i < head.size(); i++) {
      String label = head.get(i).cell(0).shown();
      boolean bare = isLoad(corner) && label.matches("[+-]?[0-9][0-9.,]*");
      loads += bare || HeaderCell.of(label, mapping) instanceof HeaderCell.AtLoad ? 1 : 0;
    }
    boolean named = isLoad(corner) || isCell(corner) || row.cell(0).shown().isEmpty();
    return new Candidate(
        grid, Kind.TURNED, row, named && units > 0 && loads >= 2 ? UNDERSTOOD + units + loads : 0);
  }

  static boolean isLoad(HeaderCell cell) {
    return cell instanceof HeaderCell.Known known && known.column() == ReadingColumn.LOAD;
  }

  private static boolean isCell(HeaderCell cell) {
    return cell instanceof HeaderCell.Known known && known.column() == ReadingColumn.CELL;
  }

  /** A cell and a board. */
  record Pair(String cell, String board) {}

  /** The cell and the board that a text names together, in either order. */
  Optional<Pair> pair(String text) {
    Matcher parts = PAIR.matcher(text);
    if (!parts.matches()) {
      return Optional.empty();
    }
    String one = parts.group(1);
    String other = parts.group(2);
    if (cells.contains(one) && boards.contains(other)) {
      return Optional.of(new Pair(one, other));
    }
    return boards.contains(one) && cells.contains(other)
        ? Optional.of(new Pair(other, one))
        : Optional.empty();
  }
}
