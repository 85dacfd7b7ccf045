package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.Numbers;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.UnitKind;

/** Every run, every unit and every error of reading: the steps between readings and results. */
final class RunTables {
  static final String RUNS = "runs";
  static final String UNITS = "unit-values";

  private static final int DIGITS = 7;
  private static final String NOT_SHOWN = "not shown by the run";

  private RunTables() {}

  /** Id of the table of errors at a level. */
  static String errorsId(LevelClaim claim, int index) {
    return "run-errors-" + Levels.id(claim, index);
  }

  /** Key of the column of errors at a step, counted from 0. */
  static String stepKey(int step) {
    return "step-" + (step + 1);
  }

  /** All runs with their characteristics. */
  static Table runs(StudyResult result, List<RecordedRun> runs) {
    Map<String, String> lotOfCell = result.study().lotBySerial(UnitKind.CELL);
    Map<String, String> lotOfBoard = result.study().lotBySerial(UnitKind.BOARD);
    List<Column> columns = new ArrayList<>();
    columns.add(Column.text("run", "Run"));
    columns.add(Column.text("session", "Session"));
    columns.add(Column.serial("cell", "Cell"));
    columns.add(Column.text("cell-lot", "Cell lot"));
    columns.add(Column.serial("board", "Board"));
    columns.add(Column.text("board-lot", "Board lot"));
    columns.add(Column.text("state", "State"));
    addCharacteristics(columns);
    List<Row> rows = new ArrayList<>();
    for (RecordedRun run : runs) {
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(run.run().name()));
      cells.add(Cell.text(run.run().session()));
      cells.add(Cell.text(run.run().cell()));
      cells.add(Cell.text(lotOfCell.getOrDefault(run.run().cell(), "")));
      cells.add(Cell.text(run.run().board()));
      cells.add(Cell.text(lotOfBoard.getOrDefault(run.run().board(), "")));
      cells.add(Cell.text(run.state().word()));
      for (Characteristic c : Characteristic.values()) {
        cells.add(
            CellTexts.optional(
                run.reduced().map(r -> r.value(c)).orElse(OptionalDouble.empty()), NOT_SHOWN));
      }
      rows.add(new Row(cells));
    }
    return new Table(
        RUNS,
        "Characteristics of each run",
        Table.Role.EVIDENCE,
        columns,
        rows,
        Prose.of(
            "Computed from the readings of the run, serials corrected as decided. Non-linearity"
                + " refers to the {}.",
            result.study().referenceLine().description()));
  }

  private static void addCharacteristics(List<Column> columns) {
    for (Characteristic c : Characteristic.values()) {
      columns.add(Column.significant(c.key(), c.title(), c.unit(), DIGITS));
    }
  }

  /** Mean of each unit over the runs that count, lot by lot. */
  static Table units(StudyResult result, List<RecordedRun> runs) {
    List<Column> columns = new ArrayList<>();
    columns.add(Column.serial("serial", "Serial"));
    columns.add(Column.text("kind", "Kind"));
    columns.add(Column.text("lot", "Lot"));
    columns.add(Column.count("runs", "Runs"));
    addCharacteristics(columns);
    List<Row> rows = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      Map<String, String> lots = result.study().lotBySerial(kind);
      Map<String, List<RecordedRun>> byUnit = new LinkedHashMap<>();
      for (RecordedRun run : runs) {
        if (run.state() == RecordedRun.State.COUNTS) {
          String serial = kind == UnitKind.CELL ? run.run().cell() : run.run().board();
          byUnit.computeIfAbsent(serial, s -> new ArrayList<>()).add(run);
        }
      }
      byUnit.entrySet().stream()
          .sorted(
              Comparator.comparing(
                      (Map.Entry<String, List<RecordedRun>> e) -> lots.getOrDefault(e.getKey(), ""))
                  .thenComparing(Map.Entry::getKey))
          .forEach(
              e ->
                  rows.add(
                      unit(kind, e.getKey(), lots.getOrDefault(e.getKey(), ""), e.getValue())));
    }
    return new Table(
        UNITS,
        "Mean of each unit over its runs",
        Table.Role.EVIDENCE,
        columns,
        rows,
        Prose.text(
            "Over the runs that count. A cell's mean holds its boards' part too, and the other way"
                + " round; the model parts them."));
  }

  private static Row unit(UnitKind kind, String serial, String lot, List<RecordedRun> runs) {
    Map<Characteristic, OptionalDouble> means = new EnumMap<>(Characteristic.class);
    for (Characteristic c : Characteristic.values()) {
      means.put(
          c,
          runs.stream()
              .flatMap(run -> run.reduced().stream())
              .flatMapToDouble(r -> r.value(c).stream())
              .average());
    }
    List<Cell> cells = new ArrayList<>();
    cells.add(Cell.text(serial));
    cells.add(Cell.text(kind.word()));
    cells.add(Cell.text(lot));
    cells.add(Cell.number(runs.size()));
    means.values().forEach(mean -> cells.add(CellTexts.optional(mean, "not shown by its runs")));
    return new Row(cells);
  }

  /** Errors of reading of every run behind a claim; empty without any. */
  static Optional<Table> errors(LevelClaim claim, int index) {
    if (claim.curves().isEmpty()) {
      return Optional.empty();
    }
    List<Column> columns = new ArrayList<>();
    columns.add(Column.text("run", "Run"));
    columns.add(Column.serial("cell", "Cell"));
    columns.add(Column.serial("board", "Board"));
    List<ErrorCurve.Point> steps = claim.curves().get(0).points();
    for (int step = 0; step < steps.size(); step++) {
      ErrorCurve.Point point = steps.get(step);
      String title = Numbers.plain(point.loadKilograms()) + " kg " + point.direction().word();
      columns.add(Column.significant(stepKey(step), title, "g", 4));
    }
    columns.add(Column.significant("largest", "Largest that counts", "g", 4));
    List<Row> rows = new ArrayList<>();
    for (ErrorCurve curve : claim.curves()) {
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(curve.run()));
      cells.add(Cell.text(curve.cell()));
      cells.add(Cell.text(curve.board()));
      curve.points().forEach(point -> cells.add(Cell.number(point.errorGrams())));
      cells.add(Cell.number(largest(curve, claim.form())));
      rows.add(new Row(cells));
    }
    return Optional.of(
        new Table(
            errorsId(claim, index),
            "Error of reading of each run, " + Levels.name(claim),
            Table.Role.EVIDENCE,
            columns,
            rows,
            Prose.of("{} {}", note(claim.form()), corrected(claim))));
  }

  private static String corrected(LevelClaim claim) {
    return claim.correction().isPresent()
        ? "With the temperature correction of the claim, whose coefficient the program estimated:"
            + " numbers, not formulas."
        : "";
  }

  private static String note(ClaimForm form) {
    String counted =
        switch (form.side()) {
          case BOTH -> "in size";
          case ABOVE -> "too high";
          case BELOW -> "too low";
        };
    String weighed =
        form instanceof ClaimForm.OfReading
            ? ", each divided by what the figure's share of the reading allows at its load"
            : "";
    return "Indicated minus applied load. The largest is the largest " + counted + weighed + ".";
  }

  private static double largest(ErrorCurve curve, ClaimForm form) {
    return curve.points().stream()
        .mapToDouble(p -> form.counted(form.inForm(p.errorGrams(), p.loadKilograms())))
        .reduce(0, Math::max);
  }
}
