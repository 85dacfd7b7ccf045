package lotproof.gather.layout;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Conversion;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.RowNumbers;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.UnitKind;

/** One row to a reading; every cell that will not do is an issue of its own. */
final class RowReader {
  private static final String RESTORE = "restore";
  private static final int MOST_SERIALS = 6;
  private static final int LARGEST_STEP = 1_000_000;
  private static final int LONGEST_NAME = 200;
  private static final int LONGEST_REMARK = 10_000;

  private static final Pattern SHOWN =
      Pattern.compile("[+-]?[0-9][0-9,]*(?:\\.[0-9]+)?(?:E[+-]?[0-9]+)?");

  /** Rounding to few digits may double a number; a scale is 100 or 1000. */
  private static final double OTHER_SCALE = 5;

  private static final Pattern HIDDEN = Pattern.compile("[\\p{Cc}\\p{Cf}\uFFFD]");
  private static final Pattern HIDDEN_IN_REMARK =
      Pattern.compile("[\\p{Cc}\\p{Cf}\uFFFD&&[^\n\r\t]]");

  /** A line that lacks fewer is taken for a reading with gaps. */
  private static final int FEW_MISSING = 3;

  private final ReadingContext context;
  private final Numbers numbers;
  private final Numbers loads;
  private final Times times;
  private final Map<ReadingColumn, Conversion> cellUnits;
  private final boolean reversed;
  private final UnitNames names;
  private final RunNamer namer;

  /** What stands once for several rows in sheets with merged cells. */
  private static final Set<ReadingColumn> NAMES =
      EnumSet.of(ReadingColumn.SESSION, ReadingColumn.RUN, ReadingColumn.CELL, ReadingColumn.BOARD);

  /** Required columns that the current line leaves empty. */
  private final List<ReadingColumn> missing = new ArrayList<>();

  /** Lines by the required columns that they leave empty. */
  private final Map<List<ReadingColumn>, List<Integer>> incomplete = new LinkedHashMap<>();

  /** The last cell of each name, where an empty one means as above. */
  private final Map<ReadingColumn, Cell> above = new EnumMap<>(ReadingColumn.class);

  /** Units that a number in place of a serial can stand for, by kind, lot and number. */
  private final Map<List<String>, List<String>> behind = new HashMap<>();

  private final Map<String, String> restored = new LinkedHashMap<>();
  private Optional<Evidence.Sample> firstRestored = Optional.empty();
  private Optional<Evidence.Sample> firstDayAlone = Optional.empty();
  private int daysAlone;

  private ColumnMap slots;
  private Row row;
  private int line;
  private boolean sound;

  /**
   * @param loads how loads in headers are read
   * @param cellUnits for columns without a unit in their header: the unit that all their cells have
   */
  RowReader(
      ReadingContext context,
      Numbers numbers,
      Numbers loads,
      Times times,
      Map<ReadingColumn, Conversion> cellUnits,
      RunNamer namer) {
    this.context = context;
    this.namer = namer;
    this.numbers = numbers;
    this.loads = loads;
    this.times = times;
    this.cellUnits = cellUnits;
    this.reversed = context.isTold(Setting.SIGN, "reversed");
    this.names = new UnitNames(context.study());
    this.slots = new ColumnMap();
    this.row = new Row(1, List.of());
  }

  /** Says what is missing, and what was done with serials and times, once all rows are read. */
  void finish() {
    incomplete.forEach(this::tellMissing);
    firstDayAlone.ifPresent(
        day ->
            context.warning(
                Code.VALUE_MISSING,
                day.line(),
                day.column(),
                "\"%s\" has no time of day; %s readings of the file are kept without a time, in the"
                    + " order of the file",
                day.text(),
                daysAlone));
    firstRestored.ifPresent(this::tellRestored);
  }

  private void tellRestored(Evidence.Sample first) {
    int more = restored.size() - MOST_SERIALS;
    String all =
        restored.entrySet().stream()
            .limit(MOST_SERIALS)
            .map(e -> "\"" + e.getKey() + "\" of \"" + e.getValue() + "\"")
            .collect(Collectors.joining(", ", "", more > 0 ? " and " + more + " more" : ""));
    if (context.isTold(Setting.SERIALS, RESTORE)) {
      context.fact("serials restored", all);
      return;
    }
    context.ask(
        Setting.SERIALS,
        "a spreadsheet seems to have made numbers of serials: " + all,
        List.of(
            new Choice(RESTORE, "take them as these serials"),
            new Choice("as-written", "they are other units")),
        first.line(),
        first.column());
  }

  /** The reading, when every cell will do and no required column is missing. */
  Optional<Reading> read(ColumnMap from, Row cells, String sheet, int number) {
    slots = from;
    row = cells;
    line = number;
    sound = true;
    missing.clear();
    String session = text(ReadingColumn.SESSION);
    Optional<LocalDateTime> time = time();
    String cell = unit(UnitKind.CELL, ReadingColumn.CELL);
    String board = unit(UnitKind.BOARD, ReadingColumn.BOARD);
    String run =
        slots.has(ReadingColumn.RUN)
            ? text(ReadingColumn.RUN)
            : namer.run(session, cell, board, line);
    int step = slots.has(ReadingColumn.STEP) ? step() : namer.step(run);
    OptionalDouble load = quantity(ReadingColumn.LOAD);
    OptionalDouble output = quantity(ReadingColumn.OUTPUT);
    OptionalDouble noise = quantity(ReadingColumn.NOISE);
    OptionalDouble cellTemperature = quantity(ReadingColumn.CELL_TEMPERATURE);
    OptionalDouble boardTemperature = quantity(ReadingColumn.BOARD_TEMPERATURE);
    String remark = text(ReadingColumn.REMARK);
    if (!missing.isEmpty()) {
      incomplete.computeIfAbsent(List.copyOf(missing), m -> new ArrayList<>()).add(line);
    }
    if (!sound || load.isEmpty() || output.isEmpty()) {
      return Optional.empty();
    }
    double counts = output.getAsDouble();
    return Optional.of(
        new Reading(
            session,
            time,
            run,
            step,
            cell,
            board,
            load.getAsDouble(),
            reversed && counts != 0 ? -counts : counts,
            new Reading.Beside(noise, cellTemperature, boardTemperature, remark),
            new Provenance(context.file().name(), sheet, context.file().sha256(), line),
            0));
  }

  /** The serial, made the name of a unit by the lot beside it where serials start again. */
  private String unit(UnitKind kind, ReadingColumn column) {
    Slot ofLot = slots.beside().get(HeaderCell.Beside.lotOf(kind));
    String lot = ofLot == null ? "" : ofLot.in(row).shown().strip();
    String serial = text(column);
    Result<String> unit = names.meaning(kind, lot, serial);
    if (unit.isRefused()) {
      reject(column, Code.AMBIGUOUS, unit.issues().get(0).message());
    }
    String name = unit.value().orElse("");
    if (name.isEmpty()
        || context.is(kind, name)
        || context.told(Setting.SERIALS).filter(told -> !told.equals(RESTORE)).isPresent()) {
      return name;
    }
    return behindNumber(kind, column, lot, serial).orElse(name);
  }

  /** The one unit whose serial a spreadsheet would have made this number of. */
  private Optional<String> behindNumber(
      UnitKind kind, ReadingColumn column, String lot, String number) {
    List<String> units =
        behind.computeIfAbsent(
            List.of(kind.key(), lot, number), key -> names.behindNumber(kind, lot, number));
    if (units.size() > 1) {
      reject(
          column,
          Code.SERIAL_DAMAGED,
          "a spreadsheet may have made \"%s\" of %s: format the column as text and type it again",
          number,
          String.join(" or ", units));
    } else if (units.size() == 1) {
      firstRestored = restored.isEmpty() ? sample(column, number) : firstRestored;
      restored.put(number, units.get(0));
      return Optional.of(units.get(0));
    }
    return Optional.empty();
  }

  private String text(ReadingColumn column) {
    Cell cell = slots.cell(column, row);
    if (NAMES.contains(column) && context.isTold(Setting.BLANKS, "as-above")) {
      cell = cell instanceof Cell.Blank ? above.getOrDefault(column, cell) : cell;
      above.put(column, cell);
    }
    if (cell instanceof Cell.Text text) {
      return checked(column, text.value());
    } else if (cell instanceof Cell.Numeric number) {
      return number.shown();
    } else if (cell instanceof Cell.DateTime date) {
      if (column == ReadingColumn.REMARK) {
        return date.shown();
      }
      reject(
          column,
          Code.SERIAL_DAMAGED,
          "the spreadsheet holds the date %s here; format the column as text and"
              + " type the %s again",
          date.shown(),
          column.word());
    } else {
      missing(column, cell);
    }
    return "";
  }

  private String checked(ReadingColumn column, String text) {
    boolean remark = column == ReadingColumn.REMARK;
    if (text.length() > (remark ? LONGEST_REMARK : LONGEST_NAME)) {
      reject(
          column, Code.VALUE_INVALID, "the text has " + text.length() + " characters; shorten it");
      return text.substring(0, LONGEST_NAME);
    }
    Matcher hidden = (remark ? HIDDEN_IN_REMARK : HIDDEN).matcher(text);
    if (hidden.find()) {
      String code = String.format(Locale.ROOT, "U+%04X", hidden.group().codePointAt(0));
      reject(column, Code.VALUE_INVALID, "the text holds the character " + code);
    } else if (text.indexOf('\n') >= 0 && text.replaceAll("[^,;\t|]", "").length() > 2) {
      reject(
          column,
          Code.VALUE_INVALID,
          "the remark holds whole lines of the table; is a quotation mark missing?");
    }
    return text;
  }

  private Optional<LocalDateTime> time() {
    Cell cell = slots.cell(ReadingColumn.TIME, row);
    Slot day = slots.beside().get(HeaderCell.Beside.DAY);
    if (day != null) {
      return dayAndTime(day.in(row), cell);
    } else if (cell instanceof Cell.DateTime date) {
      return date.hasTime() ? Optional.of(date.value()) : dayAlone(date.shown());
    } else if (cell instanceof Cell.Text text) {
      Optional<LocalDateTime> time = times.read(text.value());
      if (time.isEmpty() && times.day(text.value()).isPresent()) {
        return dayAlone(text.value());
      } else if (time.isEmpty()) {
        notATime(text.value());
      }
      return time;
    } else if (cell instanceof Cell.Numeric number) {
      notATime(number.shown());
    } else {
      missing(ReadingColumn.TIME, cell);
    }
    return Optional.empty();
  }

  private Optional<LocalDateTime> dayAndTime(Cell dayCell, Cell clockCell) {
    if (dayCell instanceof Cell.Blank && clockCell instanceof Cell.Blank) {
      return Optional.empty();
    }
    if (clockCell instanceof Cell.Blank
        && dayCell instanceof Cell.DateTime date
        && date.hasTime()) {
      return Optional.of(date.value());
    }
    Optional<LocalDateTime> whole = times.read(dayCell.shown());
    if (clockCell instanceof Cell.Blank && whole.isPresent()) {
      return whole;
    }
    Optional<LocalDate> day =
        dayCell instanceof Cell.DateTime date
            ? Optional.of(date.value().toLocalDate())
            : times.day(dayCell.shown());
    if (day.isPresent() && clockCell instanceof Cell.Blank) {
      return dayAlone(dayCell.shown());
    }
    Optional<LocalTime> clock = Times.clock(clockCell.shown());
    Optional<LocalDateTime> both = day.flatMap(d -> clock.map(d::atTime));
    if (both.isEmpty()) {
      notATime((dayCell.shown() + " " + clockCell.shown()).strip());
    }
    return both;
  }

  /** A day without a time of day is no time; midnight would put the reading before all others. */
  private Optional<LocalDateTime> dayAlone(String shown) {
    firstDayAlone = daysAlone == 0 ? sample(ReadingColumn.TIME, shown) : firstDayAlone;
    daysAlone++;
    return Optional.empty();
  }

  private void notATime(String shown) {
    reject(
        ReadingColumn.TIME,
        Code.VALUE_INVALID,
        "\"" + shown + "\" is not a local time; write it as 2026-03-04T09:30");
  }

  private int step() {
    Optional<BigDecimal> number = number(ReadingColumn.STEP, Optional.empty());
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
    Optional<Conversion> conversion =
        slots
            .slot(column)
            .flatMap(Slot::conversion)
            .or(() -> Optional.ofNullable(cellUnits.get(column)));
    Optional<BigDecimal> number = number(column, conversion);
    if (number.isEmpty() || conversion.isEmpty()) {
      // A column whose unit is unknown has its issue; its numbers mean nothing.
      sound &= number.isEmpty();
      return OptionalDouble.empty();
    }
    double value = conversion.get().apply(number.get());
    Optional<String> rule = column.outOfRange(value);
    if (rule.isPresent()) {
      String shown = number.get().toPlainString() + " " + conversion.get().from().symbol();
      reject(column, Code.OUT_OF_RANGE, shown + " is impossible: " + rule.get());
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(value);
  }

  private Optional<BigDecimal> number(ReadingColumn column, Optional<Conversion> conversion) {
    Cell cell = slots.cell(column, row);
    if (cell instanceof Cell.Numeric number) {
      if (column.unit().isPresent()) {
        doubt(number, column, conversion)
            .ifPresent(why -> reject(column, Code.UNIT_OF_MEASURE_DOUBTFUL, why));
      }
      return Optional.of(number.value());
    } else if (cell instanceof Cell.Text text) {
      boolean inHeader =
          column == ReadingColumn.LOAD && slots.slot(column).filter(s -> s.index() < 0).isPresent();
      Optional<BigDecimal> number = (inHeader ? loads : numbers).read(text.value());
      return number.isPresent() ? number : withUnit(column, text.value(), conversion);
    } else if (cell instanceof Cell.DateTime date) {
      reject(
          column,
          Code.NOT_A_NUMBER,
          "the spreadsheet holds the date " + date.shown() + " here, not a number");
    } else {
      missing(column, cell);
    }
    return Optional.empty();
  }

  /**
   * Why a stored number cannot be taken for a quantity: 0.05 shown as 5 %, 12500 shown as 13 in a
   * format of thousands, 5 shown as 5.0 g. Whoever typed it meant what is shown or what is stored;
   * which of them is not guessed.
   */
  private static Optional<String> doubt(
      Cell.Numeric number, ReadingColumn column, Optional<Conversion> conversion) {
    String shown = number.shown().strip();
    double held = number.value().doubleValue();
    Matcher digits = SHOWN.matcher(shown);
    if (shown.equals(UnitsOfMeasure.plain(held)) || !digits.find()) {
      return Optional.empty();
    }
    String both = "the cell shows " + shown + " and holds " + UnitsOfMeasure.plain(held);
    if (shown.endsWith("%")) {
      return Optional.of(
          "%s; of what it is a percentage is not known: format the column as a number, or write %s"
              .formatted(both, column.header()));
    }
    Optional<Unit> unit = HeaderCell.unit(column, shown.substring(digits.end()).strip());
    Optional<Unit> own = conversion.map(Conversion::from);
    if (unit.isPresent() && own.isPresent() && !unit.equals(own)) {
      return Optional.of(
          "%s; it is shown in %s, and the column is in %s"
              .formatted(both, unit.get().symbol(), own.get().symbol()));
    }
    double seen = Math.abs(new BigDecimal(digits.group().replace(",", "")).doubleValue());
    double size = Math.abs(held);
    boolean other = seen > 0 && (seen > OTHER_SCALE * size || size > OTHER_SCALE * seen);
    return other
        ? Optional.of(both + "; format the column as a plain number, so that both are the same")
        : Optional.empty();
  }

  /** A number with a unit of its own, which has to be the unit of its column. */
  private Optional<BigDecimal> withUnit(
      ReadingColumn column, String text, Optional<Conversion> conversion) {
    Numbers.Written written = Numbers.Written.of(text);
    Optional<BigDecimal> number =
        written.unit().isEmpty() ? Optional.empty() : numbers.read(written.number());
    if (number.isPresent() && column.unit().isPresent() && conversion.isEmpty()) {
      // that the column has no unit, or several, is its issue already
      sound = false;
      return Optional.empty();
    }
    Optional<Unit> unit = number.flatMap(n -> HeaderCell.unit(column, written.unit()));
    if (unit.isEmpty() || conversion.isEmpty()) {
      reject(column, Code.NOT_A_NUMBER, numbers.whyNot(text));
      return Optional.empty();
    }
    if (unit.get() != conversion.get().from()) {
      reject(
          column,
          Code.UNIT_OF_MEASURE_MIXED,
          "\"%s\" is in %s, and the column is in %s; a column has one unit",
          text,
          unit.get().symbol(),
          conversion.get().from().symbol());
      return Optional.empty();
    }
    return number;
  }

  /** An unusable cell has an issue already, one was left out as told, a missing column has one. */
  private void missing(ReadingColumn column, Cell cell) {
    if (cell instanceof Cell.Unusable || cell instanceof Cell.LeftOut) {
      sound = false;
    } else if (column.required()) {
      sound = false;
      Optional<Slot> slot = slots.slot(column);
      boolean cutShort = slot.filter(s -> s.index() >= row.cells().size()).isPresent();
      if (slot.isPresent() && !cutShort) {
        missing.add(column);
      }
    }
  }

  /** Lines that lack most of a reading are notes, and one issue says so. */
  private void tellMissing(List<ReadingColumn> columns, List<Integer> lines) {
    String above =
        NAMES.containsAll(columns) ? "; if it is that of the row above, say --blanks as-above" : "";
    if (columns.size() < FEW_MISSING) {
      for (int at : lines) {
        for (ReadingColumn column : columns) {
          context.error(
              Code.VALUE_MISSING,
              at,
              header(column),
              "the value is missing; every reading needs it" + above);
        }
      }
      return;
    }
    String all = String.join(", ", columns.stream().map(this::header).toList());
    context.error(
        Code.VALUE_MISSING,
        lines.get(0),
        header(columns.get(0)),
        lines.size() == 1
            ? "the line has no %s%s; if it is a note or a sum and no reading, say --skip-rows %s"
            : "lines have no %s%s; if they are notes or sums and no readings, say --skip-rows %s",
        all,
        above,
        RowNumbers.of(lines));
  }

  private Optional<Evidence.Sample> sample(ReadingColumn column, String text) {
    return Optional.of(new Evidence.Sample(text, line, header(column)));
  }

  private String header(ReadingColumn column) {
    return slots.slot(column).map(Slot::header).orElse(column.header());
  }

  private void reject(ReadingColumn column, Code code, String message, Object... values) {
    sound = false;
    context.error(code, line, header(column), message, values);
  }

  /**
   * Names for runs that a file leaves without one: session, cell and board. A pair that comes again
   * needs a name from a person, because it could be a repeat or the rest of the run.
   */
  static final class RunNamer {
    private final ReadingContext context;
    private final boolean oneRunALine;
    private final int plannedSteps;
    private final Map<String, Integer> steps = new HashMap<>();
    private final Set<String> done = new HashSet<>();
    private String current = "";
    private int currentLine;
    private boolean told;

    RunNamer(ReadingContext context, boolean oneRunALine) {
      this.context = context;
      this.oneRunALine = oneRunALine;
      this.plannedSteps = context.study().design().loadsKilograms().size();
    }

    /** Whether it had to name runs. */
    boolean namedRuns() {
      return !current.isEmpty();
    }

    /** Whether it could not tell one run from another, and said so. */
    boolean isUnsure() {
      return told;
    }

    /** Whether it had to count steps. */
    boolean countedSteps() {
      return !steps.isEmpty();
    }

    /** The name of the run, given its other names. */
    String run(String session, String cell, String board, int line) {
      String name = (session.isEmpty() ? "" : session + "/") + cell + "/" + board;
      if ((!name.equals(current) || (oneRunALine && line != currentLine)) && !done.add(name)) {
        again(cell.isEmpty() ? "a pair" : "cell " + cell + " with board " + board, line);
      }
      current = name;
      currentLine = line;
      return name;
    }

    /** The step within the run. */
    int step(String run) {
      int step = steps.merge(run, 1, Integer::sum);
      if (step == plannedSteps + 1 && plannedSteps > 0 && namedRuns()) {
        again("a pair", currentLine);
      }
      return step;
    }

    private void again(String who, int line) {
      if (!told) {
        told = true;
        context.error(
            Code.AMBIGUOUS,
            line,
            "run",
            who
                + " has more readings than one run, and the file names no runs; give it a column"
                + " \"run\"");
      }
    }
  }
}
