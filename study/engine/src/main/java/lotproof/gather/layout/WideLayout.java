package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.IntUnaryOperator;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.Columns.AtLoadColumn;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** One run a row, with a column for each load; a run that stands in a column is turned first. */
final class WideLayout implements ReadingLayout {
  private final Grid grid;
  private final ReadingContext context;
  private final Row header;
  private final Columns columns;
  private final String layout;
  private final Optional<IntUnaryOperator> lineOfColumn;
  private final List<Step> steps = new ArrayList<>();
  private boolean sound = true;

  /** One load of the run. */
  private record Step(AtLoadColumn column, int number, Optional<Conversion> output) {}

  /**
   * A walk through a table.
   *
   * @param lineOfColumn for a table that was turned: the line of the file by the column of the
   *     turned table
   */
  WideLayout(
      Grid grid,
      ReadingContext context,
      Row header,
      String layout,
      Optional<IntUnaryOperator> lineOfColumn) {
    this.grid = grid;
    this.context = context;
    this.header = header;
    this.layout = layout;
    this.lineOfColumn = lineOfColumn;
    this.columns = Columns.of(header, context);
    columns.constants();
    findSteps();
  }

  @Override
  public String layout() {
    return layout;
  }

  @Override
  public boolean isSound() {
    return sound && columns.areSound();
  }

  @Override
  public int headerLine() {
    return header.number();
  }

  @Override
  public List<ColumnUse> uses() {
    List<ColumnUse> all = new ArrayList<>(columns.uses());
    for (Step step : steps) {
      AtLoadColumn column = step.column();
      String load = column.load().number() + " " + column.load().loadUnit().symbol();
      all.add(
          new ColumnUse(
              column.index() + 1,
              column.header(),
              "output [counts] at step " + step.number() + ", load " + load,
              step.output().map(Conversion::words).orElse("")));
    }
    all.sort(java.util.Comparator.comparingInt(ColumnUse::position));
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
  public Optional<DataIssue> forEach(boolean first, Visitor visitor) {
    Pass pass = new Pass(first, visitor);
    Optional<DataIssue> broken = grid.rows().forEach(pass::take);
    pass.end();
    return broken;
  }

  private final class Pass {
    private final boolean first;
    private final Visitor visitor;
    private final Map<ReadingColumn, ColumnMap.Slot> named = new EnumMap<>(ReadingColumn.class);
    private Optional<ColumnMap.Slot> day = Optional.empty();
    private final List<ColumnMap> places = new ArrayList<>();
    private int above;
    private int comments;
    private int empty;
    private int runs;

    private Pass(boolean first, Visitor visitor) {
      this.first = first;
      this.visitor = visitor;
    }

    private boolean take(Row row) {
      if (lineOfColumn.isEmpty() && row.number() == header.number()) {
        return true;
      }
      if (HeaderNotes.isComment(row)) {
        comments++;
        if (first) {
          HeaderNotes.judgeComment(row, header.cells().size(), context);
        }
      } else if (lineOfColumn.isEmpty() && row.number() < header.number()) {
        above(row);
      } else {
        run(row);
      }
      return true;
    }

    private void above(Row row) {
      Optional<List<HeaderNotes.Named>> values = HeaderNotes.named(row);
      if (values.isPresent()) {
        named.putAll(HeaderNotes.slots(values.get(), context));
        day = HeaderNotes.day(values.get()).or(() -> day);
      } else {
        above++;
      }
    }

    private void run(Row row) {
      if (places.isEmpty()) {
        compose();
      }
      if (first) {
        columns.judge(row, grid);
      }
      boolean measured = false;
      for (Step step : steps) {
        measured |= !(row.cell(step.column().index()) instanceof Cell.Blank);
      }
      if (!measured) {
        empty++;
        if (first && lineOfColumn.isEmpty()) {
          judgeEmpty(row);
        }
        return;
      }
      runs++;
      for (int i = 0; i < steps.size(); i++) {
        int index = steps.get(i).column().index();
        if (!(row.cell(index) instanceof Cell.Blank)) {
          int line = lineOfColumn.map(of -> of.applyAsInt(index)).orElse(row.number());
          visitor.visit(places.get(i), row, line);
        }
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
      ColumnMap base = columns.slots().copy();
      named.forEach(
          (column, slot) -> {
            if (!base.has(column)) {
              base.put(column, slot);
            } else if (first) {
              context.warning(
                  Code.VALUE_INVALID,
                  header.number(),
                  slot.header(),
                  "the value above the table is not used, because the table has a column for it");
            }
          });
      if (base.day().isEmpty()) {
        day.ifPresent(base::day);
      }
      for (Step step : steps) {
        ColumnMap slots = base.copy();
        HeaderCell.AtLoad load = step.column().load();
        Conversion mass = Conversion.of(ReadingColumn.LOAD, load.loadUnit(), context.study());
        String header = step.column().header();
        slots.put(
            ReadingColumn.LOAD,
            ColumnMap.Slot.constant(header, new Cell.Text(load.number()), Optional.of(mass)));
        BigDecimal number = BigDecimal.valueOf(step.number());
        slots.put(
            ReadingColumn.STEP,
            ColumnMap.Slot.constant(
                header, new Cell.Numeric(number, number.toString()), Optional.empty()));
        slots.put(
            ReadingColumn.OUTPUT,
            ColumnMap.Slot.column(header, step.column().index(), step.output()));
        places.add(slots);
      }
      if (first) {
        for (ReadingColumn column : List.of(ReadingColumn.CELL, ReadingColumn.BOARD)) {
          if (!base.has(column) && !context.hasUnclearColumn()) {
            error(
                Code.COLUMN_MISSING,
                column.header(),
                "there is no column \"" + column.header() + "\"; every reading needs it");
          }
        }
      }
    }

    private void end() {
      if (!first) {
        return;
      }
      if (places.isEmpty()) {
        compose();
      }
      if (runs == 0) {
        context.error(
            Code.FILE_EMPTY, header.number(), "", "no run of the table has an output yet");
      }
      fact("rows above the table that were not read", above);
      fact("comment lines that were not read", comments);
      fact("runs without any output, not measured yet", empty);
      named.forEach(
          (column, slot) ->
              context.fact(column.word() + ", named above the table", slot.constant().shown()));
    }

    private void fact(String name, int count) {
      if (count > 0) {
        context.fact(name, Integer.toString(count));
      }
    }
  }

  private void error(Code code, String column, String message) {
    sound = false;
    context.error(code, header.number(), column, message);
  }
}
