package lotproof.study;

/**
 * Something in the data that a person should know. Issues are collected; reading never stops at the
 * first.
 *
 * @param file file it was found in
 * @param line line or sheet row counted from 1; 0 when the whole file is meant
 * @param column column name or position; empty when the whole line is meant
 * @param unit serial of the unit concerned; empty when none is
 * @param message what is wrong, with the value and what would be right
 */
public record DataIssue(
    Severity severity,
    Code code,
    String file,
    int line,
    String column,
    String unit,
    String message) {

  /** Whether the data can be used. */
  public enum Severity {
    /** Nothing is kept. */
    ERROR,
    /** Kept, and shown in every report. */
    WARNING
  }

  /** The kinds of trouble. */
  public enum Code {
    FILE_MISSING,
    FILE_UNREADABLE,
    FILE_TYPE,
    FILE_EMPTY,
    LAST_LINE_UNFINISHED,
    RECORD_DAMAGED,
    COLUMN_MISSING,
    COLUMN_UNKNOWN,
    COLUMN_REPEATED,
    UNIT_OF_MEASURE_UNKNOWN,
    UNIT_OF_MEASURE_DOUBTFUL,
    NOT_A_NUMBER,
    OUT_OF_RANGE,
    VALUE_MISSING,
    DUPLICATE_READING,
    UNKNOWN_SERIAL,
    RUN_INCONSISTENT,
    RUN_INCOMPLETE,
    ALREADY_IMPORTED,
    KEY_UNKNOWN,
    KEY_MISSING,
    VALUE_INVALID,
    DECISION_INVALID,
    CAPTURE_UNCLEAR,
    CLOCK_TROUBLE,
    GLITCH,
    SATURATED,
    STUCK,
    UNSTEADY,
    FOLDER_BUSY,
    WRITE_FAILED,
    AMBIGUOUS,
    MAPPING_INVALID,
    DATA_SKIPPED,
    READING_DIFFERS,
    UNIT_OF_MEASURE_MIXED,
    SERIAL_DAMAGED,
    SLOPE_DOUBTFUL,
    READING_DOUBTFUL,
    TEMPERATURE_DOUBTFUL,
    TARE_MISSING,
    CODES_SATURATED,
    CODES_STUCK,
    PAIR_NOT_PLANNED,
    PAIR_SWAPPED,
    RUN_COPIED,
    TIME_GAP,
    RUN_ORDER,
    LOAD_NOT_PLANNED
  }

  /** A message may quote what a file holds, be it as long as it wants. */
  private static final int LONGEST = 2000;

  public DataIssue {
    message = message.length() <= LONGEST ? message : message.substring(0, LONGEST) + " ...";
  }

  /** An issue for which nothing is kept. */
  public static DataIssue error(
      Code code, String file, int line, String column, String unit, String message) {
    return new DataIssue(Severity.ERROR, code, file, line, column, unit, message);
  }

  /** The same about a line, or with line 0 about a whole file. */
  public static DataIssue error(Code code, String file, int line, String message) {
    return error(code, file, line, "", "", message);
  }

  /** The same about a whole file. */
  public static DataIssue error(Code code, String file, String message) {
    return error(code, file, 0, message);
  }

  /** An issue that is kept and shown. */
  public static DataIssue warning(
      Code code, String file, int line, String column, String unit, String message) {
    return new DataIssue(Severity.WARNING, code, file, line, column, unit, message);
  }

  /** The same about a line, or with line 0 about a whole file. */
  public static DataIssue warning(Code code, String file, int line, String message) {
    return warning(code, file, line, "", "", message);
  }

  /** A message with its values; without values it stays as it is. */
  @SuppressWarnings("AnnotateFormatMethod") // the annotation would take a library of its own
  public static String say(String message, Object... values) {
    return values.length == 0 ? message : message.formatted(values);
  }

  /** The same about a column of another name. */
  public DataIssue inColumn(String other) {
    return new DataIssue(severity, code, file, line, other, unit, message);
  }

  /** The same about another line. */
  public DataIssue inLine(int other) {
    return new DataIssue(severity, code, file, other, column, unit, message);
  }

  /** The same with another weight and other words. */
  public DataIssue as(Severity otherSeverity, String otherMessage) {
    return new DataIssue(otherSeverity, code, file, line, column, unit, otherMessage);
  }

  /** Whether it keeps the data from being used. */
  public boolean isError() {
    return severity == Severity.ERROR;
  }

  /** For people: {@code bench.csv, line 12, column load [kg]: ...}. */
  public String sentence() {
    StringBuilder text = new StringBuilder(file);
    if (line > 0) {
      text.append(", line ").append(line);
    }
    if (!column.isEmpty()) {
      text.append(", column ").append(column);
    }
    if (!unit.isEmpty()) {
      text.append(", unit ").append(unit);
    }
    return text.append(": ").append(message).toString();
  }
}
