package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/** Rows that hold no reading: comments, and names with a value such as {@code cell: CA-001}. */
final class HeaderNotes {
  private static final Pattern NAMED = Pattern.compile("([^:=]{2,40}?)\\s*[:=]\\s*(.*\\S)");
  private static final int LONGEST_KEY = 40;
  private static final int MOST_NAMED = 12;

  private HeaderNotes() {}

  /** A value with its name. */
  record Named(HeaderCell meaning, String header, Cell value) {}

  static boolean isComment(Row row) {
    return row.cell(0) instanceof Cell.Text text
        && (text.value().startsWith("#") || text.value().startsWith("//"));
  }

  /** Tells of a comment that hides rows of the table. */
  static void judgeComment(Row row, int columns, TableContext context) {
    long filled = row.cells().stream().filter(c -> !(c instanceof Cell.Blank)).count();
    boolean swallowed =
        row.cells().stream()
            .anyMatch(c -> c instanceof Cell.Text t && t.value().indexOf('\n') >= 0);
    if (swallowed) {
      context.error(
          Code.FILE_UNREADABLE,
          row.number(),
          "",
          "a quotation mark in this comment hides the lines that follow");
    } else if (columns > 1 && filled > 1 && row.cells().size() >= columns) {
      context.warning(
          Code.DATA_SKIPPED,
          row.number(),
          "",
          "a row of the table stands behind a comment mark and was not read; if it is left out for"
              + " a reason, that belongs in decisions.csv");
    }
  }

  /** The named values of a row that holds nothing else. */
  static Optional<List<Named>> named(Row row) {
    Cell first = firstFilled(row);
    if (!(first instanceof Cell.Text text) || !mayBeKey(text.value())) {
      return Optional.empty();
    }
    List<Cell> filled = new ArrayList<>();
    for (Cell cell : row.cells()) {
      if (!(cell instanceof Cell.Blank)) {
        filled.add(cell);
      }
    }
    if (filled.size() > MOST_NAMED) {
      return Optional.empty();
    }
    List<Named> all = new ArrayList<>();
    for (int i = 0; i < filled.size(); ) {
      String key = filled.get(i).shown();
      Matcher both = NAMED.matcher(key);
      if (both.matches() && isNameOfOne(both.group(1))) {
        Cell value = new Cell.Text(both.group(2));
        all.add(new Named(HeaderCell.of(both.group(1), Mapping.none()), both.group(1), value));
        i++;
      } else if (isNameOfOne(key) && i + 1 < filled.size() && !isName(filled.get(i + 1))) {
        all.add(new Named(HeaderCell.of(key, Mapping.none()), key, filled.get(i + 1)));
        i += 2;
      } else {
        return Optional.empty();
      }
    }
    return all.isEmpty() ? Optional.empty() : Optional.of(all);
  }

  /** Whether a text can begin a row of named values. */
  static boolean mayName(String text) {
    return mayBeKey(text) && (text.indexOf(':') > 0 || text.indexOf('=') > 0 || isNameOfOne(text));
  }

  private static Cell firstFilled(Row row) {
    for (Cell cell : row.cells()) {
      if (!(cell instanceof Cell.Blank)) {
        return cell;
      }
    }
    return new Cell.Blank();
  }

  private static boolean mayBeKey(String text) {
    return !text.isEmpty()
        && Character.isLetter(text.charAt(0))
        && (text.length() <= LONGEST_KEY || text.indexOf(':') > 0);
  }

  /** A name of something that all readings of a run share. */
  private static boolean isNameOfOne(String key) {
    if (key.length() > LONGEST_KEY) {
      return false;
    }
    HeaderCell cell = HeaderCell.of(key, Mapping.none());
    if (cell instanceof HeaderCell.Known known) {
      ReadingColumn column = known.column();
      return column != ReadingColumn.LOAD
          && column != ReadingColumn.OUTPUT
          && column != ReadingColumn.STEP;
    }
    return cell instanceof HeaderCell.Day;
  }

  private static boolean isName(Cell cell) {
    String text = cell.shown();
    return text.length() <= LONGEST_KEY
        && !(HeaderCell.of(text, Mapping.none()) instanceof HeaderCell.Unknown);
  }

  /** The values as places that are the same for all rows. */
  static Map<ReadingColumn, ColumnMap.Slot> slots(List<Named> all, ReadingContext context) {
    Map<ReadingColumn, ColumnMap.Slot> slots = new LinkedHashMap<>();
    for (Named named : all) {
      if (named.meaning() instanceof HeaderCell.Known known) {
        Optional<Conversion> conversion =
            known.unit().map(unit -> Conversion.of(known.column(), unit, context.study()));
        slots.put(
            known.column(), ColumnMap.Slot.constant(named.header(), named.value(), conversion));
      }
    }
    return slots;
  }

  /** The day among the values. */
  static Optional<ColumnMap.Slot> day(List<Named> all) {
    return all.stream()
        .filter(named -> named.meaning() instanceof HeaderCell.Day)
        .findFirst()
        .map(named -> ColumnMap.Slot.constant(named.header(), named.value(), Optional.empty()));
  }
}
