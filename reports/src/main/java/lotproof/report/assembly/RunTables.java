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
import lotproof.claim.LevelClaim;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
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
  static final String RUNS = "runs";
  static final String UNITS = "unit-values";

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
    RunFormulas formulas = new RunFormulas(result);
    TableBuilder<RecordedRun> table =
        new TableBuilder<RecordedRun>(RUNS, "Characteristics of each run")
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
          .add(column(c), r -> r.reduced().map(reduced -> reduced.value(c)))
          .live(r -> formulas.characteristic(r.run(), c));
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
            .note(
                "Over the runs that are used. A cell's mean includes its boards' part and the other"
                    + " way round; the model separates them.")
            .add("Serial", SERIAL, UnitSummary::serial)
            .add("Kind", TEXT, u -> u.kind().key())
            .add("Lot", TEXT, UnitSummary::lot);
    RunFormulas formulas = new RunFormulas(result);
    Map<String, Integer> rowOf = new HashMap<>();
    for (int row = 0; row < runs.size(); row++) {
      rowOf.put(runs.get(row).run().name(), row);
    }
    Function<UnitSummary, List<Rows>> rows =
        unit ->
            Rows.of(
                unit.runs().stream()
                    .mapToInt(run -> Objects.requireNonNull(rowOf.get(run.run().name())))
                    .toArray());
    table
        .add("Runs", COUNT, unit -> unit.runs().size())
        .live(unit -> formulas.over("COUNT", RUNS, Characteristic.FACTOR.key(), rows.apply(unit)));
    for (Characteristic c : Characteristic.values()) {
      table
          .missing("not shown by its runs")
          .add(column(c), unit -> Optional.ofNullable(unit.means().get(c)))
          .live(unit -> formulas.over("AVERAGE", RUNS, c.key(), rows.apply(unit)));
    }
    return table.of(summaries(result, runs));
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
    StudyResult result = level.result();
    LevelClaim claim = level.claim();
    if (claim.curves().isEmpty()) {
      return Optional.empty();
    }
    RunFormulas formulas = new RunFormulas(result);
    Map<String, LoadRun> runs = new HashMap<>();
    result.runs().forEach(run -> runs.put(run.name(), run));
    TableBuilder<ErrorCurve> table =
        new TableBuilder<ErrorCurve>(
                level.errorsId(), "Reading error of each run, " + level.label())
            .evidence()
            .note("{} {}", note(claim.form()), corrected(claim))
            .add("Run", TEXT, ErrorCurve::run)
            .add("Cell", SERIAL, ErrorCurve::cell)
            .add("Board", SERIAL, ErrorCurve::board);
    List<ErrorCurve.Point> steps = claim.curves().get(0).points();
    for (int i = 0; i < steps.size(); i++) {
      int step = i;
      ErrorCurve.Point point = steps.get(step);
      String title = plain(point.loadKilograms()) + " kg " + point.direction().word();
      table
          .add(
              new Column(stepKey(steps, step), title, "g", significant(4)),
              curve -> curve.points().get(step).errorGrams())
          .live(
              curve -> formulas.error(claim, Objects.requireNonNull(runs.get(curve.run())), step));
    }
    return Optional.of(
        table
            .add("Largest error [g]", significant(4), curve -> curve.largestGrams(claim.form()))
            .live(curve -> formulas.largest(claim.form(), steps))
            .of(claim.curves()));
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
}
