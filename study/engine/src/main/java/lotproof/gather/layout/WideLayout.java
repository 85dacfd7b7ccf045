package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.IntUnaryOperator;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.layout.Columns.AtLoadColumn;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue.Code;

/** One run a row, with a column for each load; a run that stands in a column is turned first. */
final class WideLayout extends ReadingLayout {
  private final String words;
  private final Optional<IntUnaryOperator> lineOfColumn;
  private final List<Step> steps = new ArrayList<>();
  private boolean sound = true;

  /** One load of the run. */
  private record Step(AtLoadColumn column, int number, Optional<Conversion> output) {}

  /**
   * A layout of a table.
   *
   * @param lineOfColumn for a table that was turned: the line of the file by the column of the
   *     turned table
   */
  WideLayout(
      Grid grid,
      ReadingContext context,
      Row header,
      String words,
      Optional<IntUnaryOperator> lineOfColumn) {
    super(grid, context, header);
    this.words = words;
    this.lineOfColumn = lineOfColumn;
    findSteps();
  }

  @Override
  String words() {
    return words;
  }

  @Override
  boolean isSound() {
    return sound && super.isSound();
  }

  @Override
  List<ColumnUse> uses() {
    List<ColumnUse> all = new ArrayList<>(super.uses());
    for (Step step : steps) {
      AtLoadColumn column = step.column();
      all.add(
          new ColumnUse(
              column.index() + 1,
              column.header(),
              "output [counts] at step %s, load %s %s"
                  .formatted(
                      step.number(), column.load().number(), column.load().loadUnit().symbol()),
              step.output().map(Conversion::words).orElse("")));
    }
    all.sort(Comparator.comparingInt(ColumnUse::position));
    return all;
  }

  private void findSteps() {
    boolean told = columns.loads().stream().anyMatch(c -> c.load().step().isPresent());
    Optional<Unit> first = Optional.empty();
    int number = 0;
    for (AtLoadColumn column : columns.loads()) {
      int before = number;
      number = told ? column.load().step().orElse(0) : number + 1;
      if (number <= before) {
        error(
            Code.AMBIGUOUS,
            column.header(),
            "the steps in the headers do not rise from left to right; number all of them or none");
        number = before + 1;
      }
      Optional<Unit> unit = outputUnit(column);
      if (unit.isPresent() && first.isPresent() && !unit.equals(first)) {
        error(
            Code.UNIT_OF_MEASURE_MIXED,
            column.header(),
            ("this column is in %s and one before it in %s; the outputs of a file"
                    + " have one unit")
                .formatted(unit.get().symbol(), first.get().symbol()));
      }
      first = first.or(() -> unit);
      steps.add(
          new Step(
              column,
              number,
              unit.map(u -> Conversion.of(ReadingColumn.OUTPUT, u, context.study()))));
    }
    for (ReadingColumn extra :
        List.of(ReadingColumn.LOAD, ReadingColumn.OUTPUT, ReadingColumn.STEP)) {
      columns
          .slots()
          .slot(extra)
          .ifPresent(
              slot ->
                  error(
                      Code.COLUMN_REPEATED,
                      slot.header(),
                      "the loads stand in the headers of other columns; this column has no place"));
    }
  }

  private Optional<Unit> outputUnit(AtLoadColumn column) {
    if (column.load().outputUnit().isPresent()) {
      return column.load().outputUnit();
    }
    if (!column.load().unitText().isEmpty()) {
      error(
          Code.UNIT_OF_MEASURE_UNKNOWN,
          column.header(),
          "\"%s\" is no unit of converter output; write [counts] or [mV/V]"
              .formatted(column.load().unitText()));
      return Optional.empty();
    }
    Optional<Unit> told = context.told(Setting.OUTPUT_UNIT).flatMap(HeaderCell::outputUnit);
    if (told.isEmpty()) {
      sound = false;
      context.ask(
          Setting.OUTPUT_UNIT,
          "In which unit are the outputs? The headers do not say",
          List.of(new Choice("counts", "converter counts"), new Choice("mV/V", "bridge signal")),
          header.number(),
          column.header());
    }
    return told;
  }

  @Override
  Pass pass(boolean first, Visitor visitor) {
    return new Runs(first, visitor);
  }

  private final class Runs extends Pass {
    private final List<ColumnMap> places = new ArrayList<>();
    private int empty;
    private int runs;

    private Runs(boolean first, Visitor visitor) {
      super(first, visitor);
    }

    @Override
    boolean isHeader(Row row) {
      return lineOfColumn.isEmpty() && super.isHeader(row);
    }

    @Override
    boolean isAbove(Row row) {
      return lineOfColumn.isEmpty() && super.isAbove(row);
    }

    @Override
    Optional<List<HeaderNotes.Named>> notes(Row row) {
      return isAbove(row) ? HeaderNotes.named(row) : Optional.empty();
    }

    @Override
    void data(Row row) {
      if (places.isEmpty()) {
        compose();
      }
      if (first) {
        columns.judge(row, grid);
      }
      boolean measured = false;
      for (int i = 0; i < steps.size(); i++) {
        int index = steps.get(i).column().index();
        if (!(row.cell(index) instanceof Cell.Blank)) {
          measured = true;
          int line = lineOfColumn.map(of -> of.applyAsInt(index)).orElse(row.number());
          visitor.visit(places.get(i), row, line);
        }
      }
      runs += measured ? 1 : 0;
      empty += measured ? 0 : 1;
      if (!measured && first && lineOfColumn.isEmpty()) {
        judgeEmpty(row);
      }
    }

    /** A serial outside its column, beside a number, is a reading of another table. */
    private void judgeEmpty(Row row) {
      boolean number = false;
      boolean elsewhere = false;
      for (int i = 0; i < row.cells().size(); i++) {
        int column = i;
        String text = row.cell(i).shown();
        boolean ofUnits =
            Stream.of(ReadingColumn.CELL, ReadingColumn.BOARD)
                .flatMap(kind -> columns.slots().slot(kind).stream())
                .anyMatch(slot -> slot.index() == column);
        elsewhere |= !ofUnits && context.isUnit(text);
        number |= text.matches("[+-]?[0-9][0-9.,]*");
      }
      if (elsewhere && number) {
        context.error(
            Code.DATA_SKIPPED,
            row.number(),
            "",
            "the line has no output in the columns of this table, and a serial in another column;"
                + " does it belong to another table? Give that table in a file of its own, or begin"
                + " the line with #");
      }
    }

    private void compose() {
      ColumnMap base = places();
      for (Step step : steps) {
        ColumnMap slots = base.copy();
        HeaderCell.AtLoad load = step.column().load();
        Conversion mass = Conversion.of(ReadingColumn.LOAD, load.loadUnit(), context.study());
        String name = step.column().header();
        BigDecimal number = BigDecimal.valueOf(step.number());
        slots.put(
            ReadingColumn.LOAD,
            Slot.constant(name, new Cell.Text(load.number()), Optional.of(mass)));
        slots.put(
            ReadingColumn.STEP,
            Slot.constant(name, new Cell.Numeric(number, number.toString()), Optional.empty()));
        slots.put(ReadingColumn.OUTPUT, Slot.column(name, step.column().index(), step.output()));
        places.add(slots);
      }
      if (first) {
        Stream.of(ReadingColumn.CELL, ReadingColumn.BOARD)
            .filter(column -> !base.has(column))
            .forEach(
                column -> {
                  sound = false;
                  missing(column);
                });
      }
    }

    @Override
    void end() {
      if (places.isEmpty()) {
        compose();
      }
      if (runs == 0) {
        context.error(
            Code.FILE_EMPTY, header.number(), "", "no run of the table has an output yet");
      }
      super.end();
      fact("runs without any output, not measured yet", empty);
      named.forEach(
          (column, slot) ->
              context.fact(column.word() + ", named above the table", slot.constant().shown()));
    }
  }

  private void error(Code code, String column, String message) {
    sound = false;
    context.error(code, header.number(), column, message);
  }
}
