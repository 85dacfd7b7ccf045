package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.claim.LevelClaim;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.UnitSummary;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.review.Finding;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.Decision;
import lotproof.study.UnitKind;

/** Every run, every unit and every error of reading: the steps between readings and results. */
final class RunTables {
  static final String UNITS = "unit-values";

  private static final String UNIT_MEANS =
      "A cell's mean includes its boards' part and the other way round; the model separates them.";

  private static final int DIGITS = 7;

  private RunTables() {}

  /** Key of the column of errors at a step, counted from 0: {@code step-3-rising-35-kg}. */
  static String stepKey(List<ErrorCurve.Point> steps, int step) {
    ErrorCurve.Point point = steps.get(step);
    String load = plain(point.loadKilograms()).replace('.', '-');
    return text("step-%d-%s-%s-kg", step + 1, point.direction().word(), load);
  }

  /** All runs with their characteristics. */
  static Table runs(StudyResult result, List<RecordedRun> runs) {
    Map<String, String> lotOfCell = result.study().units().lotBySerial(UnitKind.CELL);
    Map<String, String> lotOfBoard = result.study().units().lotBySerial(UnitKind.BOARD);
    TableBuilder<RecordedRun> table =
        new TableBuilder<RecordedRun>("runs", "Characteristics of each run")
            .evidence()
            .note(
                "Computed from the readings of the run, serials corrected as decided."
                    + " Non-linearity refers to the {}.",
                result.study().referenceLine().description())
            .add("Run", TEXT, r -> r.run().name())
            .add("Session", TEXT, r -> r.run().session())
            .add("Cell", SERIAL, r -> r.run().cell())
            .add("Cell lot", TEXT, r -> lotOfCell.getOrDefault(r.run().cell(), ""))
            .add("Board", SERIAL, r -> r.run().board())
            .add("Board lot", TEXT, r -> lotOfBoard.getOrDefault(r.run().board(), ""))
            .add("State", TEXT, r -> r.state().word());
    for (Characteristic c : Characteristic.values()) {
      table
          .missing("not shown by the run")
          .add(column(c), r -> r.reduced().map(reduced -> reduced.value(c)));
    }
    return table.of(runs);
  }

  private static Column column(Characteristic c) {
    return new Column(c.key(), c.title(), c.unit(), significant(DIGITS));
  }

  /** What there is to know of each unit in a line. */
  static Table unitList(StudyResult result, List<RecordedRun> runs) {
    Map<String, String> decided =
        result.decisions().stream()
            .collect(Collectors.toMap(Decision::serial, d -> d.cause(), (a, b) -> b));
    Map<String, Long> open =
        result.findings().stream()
            .filter(f -> f.decision().isEmpty())
            .collect(Collectors.groupingBy(Finding::serial, Collectors.counting()));
    return new TableBuilder<UnitSummary>("unit-list", "Units that the figure rests on")
        .add("Serial", SERIAL, UnitSummary::serial)
        .add("Kind", TEXT, u -> u.kind().key())
        .add("Lot", TEXT, UnitSummary::lot)
        .add("Runs", COUNT, u -> u.runs().size())
        .missing("-")
        .add(
            "Sensitivity [mV/V]",
            significant(5),
            u -> Optional.ofNullable(u.means().get(Characteristic.SENSITIVITY)))
        .add("Open findings", COUNT, u -> Optional.ofNullable(open.get(u.serial())))
        .add("Decision", TEXT, u -> decided.getOrDefault(u.serial(), ""))
        .of(summaries(result, runs));
  }

  /** Mean of each unit over the runs that count, lot by lot. */
  static Table units(StudyResult result, List<RecordedRun> runs) {
    TableBuilder<UnitSummary> table =
        new TableBuilder<UnitSummary>(UNITS, "Mean of each unit over its runs")
            .evidence()
            .note(UNIT_MEANS)
            .add("Serial", SERIAL, UnitSummary::serial)
            .add("Kind", TEXT, u -> u.kind().key())
            .add("Lot", TEXT, UnitSummary::lot)
            .add("Runs", COUNT, unit -> unit.runs().size());
    for (Characteristic c : Characteristic.values()) {
      table
          .missing("not shown by its runs")
          .add(column(c), unit -> Optional.ofNullable(unit.means().get(c)));
    }
    return table.of(summaries(result, runs));
  }

  /** A row of the workbook's table: a unit or a run. */
  private record Measured(Optional<UnitSummary> unit, Optional<RecordedRun> run) {
    boolean is(UnitKind kind) {
      return unit.filter(u -> u.kind() == kind).isPresent();
    }

    String serial(UnitKind kind) {
      return is(kind)
          ? unit.orElseThrow().serial()
          : run.map(r -> kind == UnitKind.CELL ? r.run().cell() : r.run().board()).orElse("");
    }
  }

  /** First each unit with its means, then each run: the steps that a workbook computes. */
  static Table unitsAndRuns(StudyResult result, List<RecordedRun> runs) {
    RunFormulas formulas = new RunFormulas(result);
    Map<String, Integer> rowOf = rowsOfRuns(result, runs);
    Map<String, String> lots = new HashMap<>();
    for (UnitKind kind : UnitKind.values()) {
      result.study().units().lotBySerial(kind).forEach((unit, lot) -> lots.put(kind + unit, lot));
    }
    Function<UnitSummary, List<Rows>> rows =
        unit ->
            Rows.of(
                unit.runs().stream()
                    .mapToInt(run -> Objects.requireNonNull(rowOf.get(run.run().name())))
                    .toArray());
    TableBuilder<Measured> table =
        new TableBuilder<Measured>(UNITS, "Characteristics of each unit and each run")
            .note(
                "A unit's values are means over its runs that count. {} Non-linearity refers to the"
                    + " {}.",
                UNIT_MEANS,
                result.study().referenceLine().description())
            .add(
                "Unit or run",
                SERIAL,
                m -> m.unit().map(UnitSummary::serial).or(() -> m.run().map(r -> r.run().name())))
            .add("Kind", TEXT, m -> m.unit().map(u -> u.kind().key()).orElse("run"))
            .add("State", TEXT, m -> m.run().map(r -> r.state().word()).orElse(""));
    for (UnitKind kind : UnitKind.values()) {
      String title = kind == UnitKind.CELL ? "Cell" : "Board";
      table
          .add(title, SERIAL, m -> m.serial(kind))
          .add(title + " lot", TEXT, m -> lots.getOrDefault(kind + m.serial(kind), ""));
    }
    table
        .missing("-")
        .add("Runs", COUNT, m -> m.unit().map(u -> u.runs().size()))
        .live(
            m ->
                m.unit()
                    .flatMap(
                        u ->
                            formulas.over(
                                "COUNT", UNITS, Characteristic.FACTOR.key(), rows.apply(u))));
    for (Characteristic c : Characteristic.values()) {
      table
          .add(
              column(c),
              m ->
                  m.unit()
                      .map(u -> Optional.ofNullable(u.means().get(c)))
                      .orElseGet(
                          () -> m.run().flatMap(RecordedRun::reduced).flatMap(r -> value(r, c))))
          .live(
              m ->
                  m.unit()
                      .map(u -> formulas.over("AVERAGE", UNITS, c.key(), rows.apply(u)))
                      .orElseGet(() -> formulas.characteristic(m.run().orElseThrow().run(), c)));
    }
    return table.of(
        Stream.concat(
                summaries(result, runs).stream()
                    .map(unit -> new Measured(Optional.of(unit), Optional.empty())),
                runs.stream().map(run -> new Measured(Optional.empty(), Optional.of(run))))
            .toList());
  }

  private static Optional<Double> value(ReducedRun run, Characteristic c) {
    return run.value(c).stream().boxed().findFirst();
  }

  /** Where runs stand in the workbook's table of units and runs. */
  static Map<String, Integer> rowsOfRuns(StudyResult result, List<RecordedRun> runs) {
    Map<String, Integer> rows = new HashMap<>();
    int row = summaries(result, runs).size();
    for (RecordedRun run : runs) {
      rows.put(run.run().name(), row++);
    }
    return rows;
  }

  /** Units in the rows of their table. */
  static List<UnitSummary> summaries(StudyResult result, List<RecordedRun> runs) {
    return UnitSummary.of(
        result.study(),
        runs.stream()
            .filter(run -> run.state() == RecordedRun.State.COUNTS)
            .flatMap(run -> run.reduced().stream())
            .toList());
  }

  /** Errors of reading of every run behind a claim; empty without any. */
  static Optional<Table> errors(ReportedLevel level) {
    LevelClaim claim = level.claim();
    if (claim.curves().isEmpty()) {
      return Optional.empty();
    }
    TableBuilder<ErrorCurve> table =
        new TableBuilder<ErrorCurve>(
                level.errorsId(), "Reading error of each run, " + level.label())
            .evidence()
            .note("{}", note(claim.form()))
            .add("Run", TEXT, ErrorCurve::run)
            .add("Cell", SERIAL, ErrorCurve::cell)
            .add("Board", SERIAL, ErrorCurve::board);
    List<ErrorCurve.Point> steps = claim.curves().get(0).points();
    for (int i = 0; i < steps.size(); i++) {
      int step = i;
      ErrorCurve.Point point = steps.get(step);
      String title = plain(point.loadKilograms()) + " kg " + point.direction().word();
      table.add(
          new Column(stepKey(steps, step), title, "g", significant(4)),
          curve -> curve.points().get(step).errorGrams());
    }
    return Optional.of(
        table
            .add("Largest error [g]", significant(4), curve -> curve.largestGrams(claim.form()))
            .of(claim.curves()));
  }

  /** What the largest error of a run is. */
  static String note(ClaimForm form) {
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
}
