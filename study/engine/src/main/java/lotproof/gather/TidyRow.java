package lotproof.gather;

import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.ReadingColumn;
import lotproof.folder.ReceivedFile;
import lotproof.folder.UnitsOfMeasure.Unit;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/** One row of a tidy table to a reading; every cell that will not do is an issue of its own. */
final class TidyRow {
  private static final int LARGEST_STEP = 1_000_000;

  private final ReceivedFile file;
  private final TidyColumns columns;
  private final NumberText numbers;
  private final Row row;
  private final List<DataIssue> issues;
  private boolean sound = true;

  TidyRow(
      ReceivedFile file, TidyColumns columns, NumberText numbers, Row row, List<DataIssue> issues) {
    this.file = file;
    this.columns = columns;
    this.numbers = numbers;
    this.row = row;
    this.issues = issues;
  }

  /** The reading, when every cell will do and no required column is missing. */
  Optional<Reading> reading() {
    String session = text(ReadingColumn.SESSION);
    Optional<LocalDateTime> time = time();
    String run = text(ReadingColumn.RUN);
    int step = step();
    String cell = text(ReadingColumn.CELL);
    String board = text(ReadingColumn.BOARD);
    OptionalDouble load = quantity(ReadingColumn.LOAD);
    OptionalDouble output = quantity(ReadingColumn.OUTPUT);
    OptionalDouble noise = quantity(ReadingColumn.NOISE);
    OptionalDouble cellTemperature = quantity(ReadingColumn.CELL_TEMPERATURE);
    OptionalDouble boardTemperature = quantity(ReadingColumn.BOARD_TEMPERATURE);
    String remark = text(ReadingColumn.REMARK);
    if (!sound) {
      return Optional.empty();
    }
    return Optional.of(
        new Reading(
            session,
            time,
            run,
            step,
            cell,
            board,
            load.getAsDouble(),
            output.getAsDouble(),
            noise,
            cellTemperature,
            boardTemperature,
            remark,
            new Provenance(file.name(), file.sha256(), row.number()),
            0));
  }

  private Cell cell(ReadingColumn meaning) {
    return columns.column(meaning).map(c -> row.cell(c.index())).orElseGet(Cell.Blank::new);
  }

  private String text(ReadingColumn column) {
    Cell cell = cell(column);
    if (cell instanceof Cell.Text text) {
      return text.value();
    } else if (cell instanceof Cell.Numeric number) {
      return number.shown();
    } else if (cell instanceof Cell.DateTime date) {
      if (column == ReadingColumn.REMARK) {
        return date.value().toString();
      }
      reject(
          column,
          Code.VALUE_INVALID,
          "the spreadsheet holds the date "
              + date.value()
              + " here; format the column as text and"
              + " type the "
              + column.word()
              + " again");
    } else {
      missing(column, cell);
    }
    return "";
  }

  private Optional<LocalDateTime> time() {
    Cell cell = cell(ReadingColumn.TIME);
    if (cell instanceof Cell.DateTime date) {
      return Optional.of(date.value());
    } else if (cell instanceof Cell.Text text) {
      try {
        String iso = text.value().replaceFirst("^(\\d{4}-\\d{2}-\\d{2}) (?=\\d)", "$1T");
        return Optional.of(LocalDateTime.parse(iso));
      } catch (DateTimeParseException e) {
        notATime(text.value());
      }
    } else if (cell instanceof Cell.Numeric number) {
      notATime(number.shown());
    } else {
      missing(ReadingColumn.TIME, cell);
    }
    return Optional.empty();
  }

  private void notATime(String shown) {
    reject(
        ReadingColumn.TIME,
        Code.VALUE_INVALID,
        "\"" + shown + "\" is not a local time; write it as 2026-03-04T09:30");
  }

  private int step() {
    Optional<BigDecimal> number = number(ReadingColumn.STEP);
    if (number.isEmpty()) {
      return 0;
    }
    BigDecimal step = number.get().stripTrailingZeros();
    boolean whole = step.scale() <= 0;
    if (whole && step.signum() > 0 && step.compareTo(BigDecimal.valueOf(LARGEST_STEP)) <= 0) {
      return step.intValueExact();
    }
    reject(
        ReadingColumn.STEP,
        Code.OUT_OF_RANGE,
        step.toPlainString() + " is no step; steps are whole numbers, counted from 1");
    return 0;
  }

  private OptionalDouble quantity(ReadingColumn column) {
    Optional<Unit> given = columns.column(column).flatMap(TidyColumns.Column::unit);
    Optional<BigDecimal> number = number(column);
    if (number.isEmpty() || given.isEmpty()) {
      // A column whose unit is unknown has its issue; its numbers mean nothing.
      sound &= number.isEmpty();
      return OptionalDouble.empty();
    }
    double value = given.get().to(column.unit().orElseThrow(), number.get());
    Optional<String> rule = column.outOfRange(value);
    if (rule.isPresent()) {
      String shown = number.get().toPlainString() + " " + given.get().symbol();
      reject(column, Code.OUT_OF_RANGE, shown + " is impossible: " + rule.get());
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(value);
  }

  private Optional<BigDecimal> number(ReadingColumn column) {
    Cell cell = cell(column);
    if (cell instanceof Cell.Numeric number) {
      return Optional.of(number.value());
    } else if (cell instanceof Cell.Text text) {
      Optional<BigDecimal> number = numbers.read(text.value());
      if (number.isEmpty()) {
        reject(column, Code.NOT_A_NUMBER, numbers.whyNot(text.value()));
      }
      return number;
    } else if (cell instanceof Cell.DateTime date) {
      reject(
          column,
          Code.NOT_A_NUMBER,
          "the spreadsheet holds the date " + date.value() + " here, not a number");
    } else {
      missing(column, cell);
    }
    return Optional.empty();
  }

  /** An unusable cell has an issue already, and so has a missing column. */
  private void missing(ReadingColumn column, Cell cell) {
    if (cell instanceof Cell.Unusable) {
      sound = false;
    } else if (column.required()) {
      sound = false;
      boolean cutShort =
          columns.column(column).filter(c -> c.index() >= row.cells().size()).isPresent();
      if (columns.column(column).isPresent() && !cutShort) {
        reject(column, Code.VALUE_MISSING, "the value is missing; every reading needs it");
      }
    }
  }

  private void reject(ReadingColumn column, Code code, String message) {
    sound = false;
    String header = columns.column(column).map(TidyColumns.Column::header).orElse(column.header());
    issues.add(DataIssue.error(code, file.name(), row.number(), header, "", message));
  }
}
