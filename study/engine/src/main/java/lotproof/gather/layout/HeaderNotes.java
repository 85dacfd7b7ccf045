package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.ColumnMap.Conversion;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/** Rows that hold no reading: comments, and names with a value such as {@code cell: CA-001}. */
final class HeaderNotes {
  private static final Pattern NAMED = Pattern.compile("([^:=]{2,40}?)\\s*[:=]\\s*(.*\\S)");
  private static final int LONGEST_KEY = 40;
  private static final int MOST_NAMED = 12;

  /** Whole cells that name a row of sums. */
  private static final Pattern TOTAL =
      Pattern.compile(
          "(?i)(?:grand |sub)?totals?|sum|mean|average|avg\\.?|median|s\\.?d\\.?|st(?:andar)?d\\.?"
              + " ?dev"
              + "(?:iation)?\\.?|stdev|min(?:imum)?|max(?:imum)?|range|summe|gesamt|mittel(?:wert)?|standardabweichung|moyenne|\u00e9cart[-"
              + " ]type|[\u03a3\u03c3\u00f8]");

  private HeaderNotes() {}

  /** A value with its name. */
  record Named(HeaderCell meaning, String header, Cell value) {

    private static Named of(String header, Cell value) {
      return new Named(HeaderCell.of(header, Mapping.none()), header, value);
    }

    /** Puts the value where it is the same for all rows. */
    void into(ColumnMap map, ReadingContext context) {
      if (meaning instanceof HeaderCell.Known known) {
        Optional<Conversion> conversion =
            known.unit().map(unit -> context.conversion(known.column(), unit));
        map.slots().put(known.column(), Slot.constant(header, value, conversion));
      } else if (meaning instanceof HeaderCell.Beside beside) {
        map.beside().put(beside, Slot.constant(header, value, Optional.empty()));
      }
    }
  }

  /** Whether the first text of a row says that it holds sums, means or the like of others. */
  static boolean isTotal(Row row) {
    return row.cells().stream()
        .filter(HeaderNotes::isText)
        .findFirst()
        .filter(
            cell -> {
              String text = cell.shown();
              return text.length() <= LONGEST_KEY
                  && TOTAL.matcher(text.replaceAll("\\s*[:=]$", "")).matches();
            })
        .isPresent();
  }

  private static boolean isText(Cell cell) {
    return cell instanceof Cell.Text text && !text.value().matches("[+-]?[0-9.,]+");
  }

  /** Whether two rows hold the same. */
  static boolean same(Row one, Row other) {
    int cells = Math.max(one.cells().size(), other.cells().size());
    return IntStream.range(0, cells).allMatch(i -> one.cell(i).equals(other.cell(i)));
  }

  /** A line that begins with a comment mark; #2 in front of numbers is the name of a run. */
  static boolean isComment(Row row) {
    return row.cell(0) instanceof Cell.Text text
        && (text.value().startsWith("//") || (text.value().startsWith("#") && !isNumbered(row)));
  }

  /** Whether a row begins with a number behind a mark, and holds numbers. */
  static boolean isNumbered(Row row) {
    return row.cell(0).shown().matches("#[0-9]{1,9}")
        && row.cells().stream().anyMatch(cell -> cell.shown().matches("[+-]?[0-9][0-9.,]*"));
  }

  /** Tells of a comment that hides rows of the table. */
  static void judgeComment(Row row, int columns, TableContext context) {
    boolean swallowed = row.cells().stream().anyMatch(c -> c.shown().indexOf('\n') >= 0);
    if (swallowed) {
      context.error(
          Code.FILE_UNREADABLE,
          row.number(),
          "",
          "a quotation mark in this comment hides the lines that follow");
    } else if (columns > 1 && filled(row).size() > 1 && row.cells().size() >= columns) {
      context.warning(
          Code.DATA_SKIPPED,
          row.number(),
          "",
          "a row of the table stands behind a comment mark and was not read; if it is left out for"
              + " a reason, that belongs in decisions.csv");
    }
  }

  /** The named values of a row that holds nothing else; else none. */
  static List<Named> named(Row row) {
    List<Cell> filled = filled(row);
    if (filled.isEmpty() || filled.size() > MOST_NAMED || !mayName(filled.get(0))) {
      return List.of();
    }
    List<Named> all = new ArrayList<>();
    for (int i = 0; i < filled.size(); i++) {
      String key = filled.get(i).shown();
      Matcher both = NAMED.matcher(key);
      if (both.matches() && isNameOfOne(both.group(1))) {
        all.add(Named.of(both.group(1), new Cell.Text(both.group(2))));
      } else if (isNameOfOne(key) && i + 1 < filled.size() && !isName(filled.get(i + 1))) {
        i++;
        all.add(Named.of(key, filled.get(i)));
      } else {
        return List.of();
      }
    }
    return all;
  }

  private static List<Cell> filled(Row row) {
    return row.cells().stream().filter(cell -> !(cell instanceof Cell.Blank)).toList();
  }

  /** Whether a cell can begin a row of named values. */
  static boolean mayName(Cell cell) {
    Matcher both = NAMED.matcher(cell.shown());
    return isWord(cell) && isNameOfOne(both.matches() ? both.group(1) : cell.shown());
  }

  /** Whether a cell holds text that begins with a letter. */
  static boolean isWord(Cell cell) {
    return cell instanceof Cell.Text text
        && !text.value().isEmpty()
        && Character.isLetter(text.value().charAt(0));
  }

  /** A name of something that all readings of a run share. */
  private static boolean isNameOfOne(String key) {
    if (key.length() > LONGEST_KEY) {
      return false;
    }
    HeaderCell cell = HeaderCell.of(key, Mapping.none());
    return cell.equals(HeaderCell.Beside.DAY)
        || (cell instanceof HeaderCell.Known known
            && known.column() != ReadingColumn.LOAD
            && known.column() != ReadingColumn.OUTPUT
            && known.column() != ReadingColumn.STEP);
  }

  private static boolean isName(Cell cell) {
    String text = cell.shown();
    return text.length() <= LONGEST_KEY
        && !(HeaderCell.of(text, Mapping.none()) instanceof HeaderCell.Unknown);
  }
}
