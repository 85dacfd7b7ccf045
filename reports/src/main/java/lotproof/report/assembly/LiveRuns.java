package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import lotproof.claim.LevelClaim;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.LoadRun;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Formula.Summary;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.ReferenceLine;

/** Formulas of the steps from readings to characteristics, to errors and to units. */
final class LiveRuns {
  private static final String READINGS = ReadingSection.READINGS;

  /** A formula over more stretches of rows than this would be too long for a spreadsheet. */
  private static final int MOST_STRETCHES = 100;

  private static final Formula HUNDRED = Formula.constant(100);
  private static final Formula GRAMS_PER_KILOGRAM = Formula.constant(1000);

  private final StudyResult result;
  private final List<RecordedRun> runs;
  private final LiveTables tables;

  /** Row of the first reading of each run. */
  private final Map<String, Integer> firstReading = new HashMap<>();

  LiveRuns(StudyResult result, List<RecordedRun> runs, LiveTables tables) {
    this.result = result;
    this.runs = runs;
    this.tables = tables;
    int row = 0;
    for (LoadRun run : result.runs()) {
      firstReading.put(run.name(), row);
      row += run.readings().size();
    }
  }

  /** Makes runs, errors and units live. */
  void apply() {
    runs();
    List<LevelClaim> claims = result.asDecided().claims();
    for (int i = 0; i < claims.size(); i++) {
      errors(claims.get(i), i);
    }
    means(RunTables.UNITS, LiveRuns::sameUnit, "runs");
    means("pairs", LiveRuns::samePair, "runs");
  }

  static Formula number(String column) {
    return Formula.cell(StudySection.NUMBERS, column, 0);
  }

  private static boolean sameUnit(LiveTables tables, int row, LoadRun run) {
    boolean cell = tables.words(RunTables.UNITS, "kind", row).equals("cell");
    return tables.words(RunTables.UNITS, "serial", row).equals(cell ? run.cell() : run.board());
  }

  private static boolean samePair(LiveTables tables, int row, LoadRun run) {
    return tables.words("pairs", "cell", row).equals(run.cell())
        && tables.words("pairs", "board", row).equals(run.board());
  }

  /** Whether a run belongs to a row of a table. */
  private interface Belongs {
    boolean test(LiveTables tables, int row, LoadRun run);
  }

  private void means(String table, Belongs belongs, String countColumn) {
    int rows = tables.table(table).map(t -> t.rows().size()).orElse(0);
    List<List<Integer>> runsOf =
        IntStream.range(0, rows)
            .mapToObj(
                row ->
                    IntStream.range(0, runs.size())
                        .filter(i -> runs.get(i).state() == RecordedRun.State.COUNTS)
                        .filter(i -> belongs.test(tables, row, runs.get(i).run()))
                        .boxed()
                        .toList())
            .toList();
    Map<String, IntFunction<Optional<Formula>>> columns = new LinkedHashMap<>();
    for (Characteristic c : Characteristic.values()) {
      columns.put(c.key(), row -> overRuns(Summary.MEAN, c.key(), runsOf.get(row)));
    }
    columns.put(
        countColumn, row -> overRuns(Summary.COUNT, Characteristic.FACTOR.key(), runsOf.get(row)));
    tables.set(table, columns);
  }

  private static Optional<Formula> overRuns(
      Summary summary, String column, List<Integer> positions) {
    List<Rows> rows = Rows.of(positions);
    return rows.isEmpty() || rows.size() > MOST_STRETCHES
        ? Optional.empty()
        : Optional.of(new Formula.RowsSummary(summary, RunTables.RUNS, column, rows));
  }

  private void runs() {
    Map<Characteristic, BiFunction<Integer, RecordedRun, Optional<Formula>>> of =
        new LinkedHashMap<>();
    of.put(Characteristic.FACTOR, (row, run) -> Optional.of(slope(run.run())));
    of.put(
        Characteristic.SENSITIVITY,
        (row, run) ->
            Optional.of(factor(row).times(number("capacity")).over(number("converter-scale"))));
    of.put(
        Characteristic.ZERO,
        (row, run) -> Optional.of(output(run.run(), 0).over(number("converter-scale"))));
    of.put(Characteristic.NON_LINEARITY, (row, run) -> Optional.of(nonLinearity(run.run(), row)));
    of.put(Characteristic.HYSTERESIS, (row, run) -> hysteresis(run.run(), row));
    of.put(
        Characteristic.ZERO_RETURN,
        (row, run) ->
            Optional.of(
                GRAMS_PER_KILOGRAM
                    .times(
                        output(run.run(), run.run().readings().size() - 1)
                            .minus(output(run.run(), 0)))
                    .over(factor(row))));
    of.put(Characteristic.NOISE, (row, run) -> Optional.of(noise(run.run(), row)));
    Map<String, IntFunction<Optional<Formula>>> columns = new LinkedHashMap<>();
    of.forEach(
        (characteristic, formula) ->
            columns.put(
                characteristic.key(),
                row -> {
                  RecordedRun run = runs.get(row);
                  return run.run().readings().size() > MOST_STRETCHES
                      ? Optional.empty()
                      : formula.apply(row, run);
                }));
    tables.set(RunTables.RUNS, columns);
  }

  private static Formula factor(int row) {
    return Formula.cell(RunTables.RUNS, Characteristic.FACTOR.key(), row);
  }

  private Formula output(LoadRun run, int index) {
    return Formula.cell(READINGS, "output", first(run) + index);
  }

  private Formula load(LoadRun run, int index) {
    return Formula.cell(READINGS, "load", first(run) + index);
  }

  private int first(LoadRun run) {
    return Objects.requireNonNull(firstReading.get(run.name()));
  }

  private Rows rising(LoadRun run) {
    return new Rows(first(run), first(run) + run.peak());
  }

  private Formula slope(LoadRun run) {
    if (result.study().referenceLine() == ReferenceLine.LEAST_SQUARES) {
      return new Formula.Slope(READINGS, "output", "load", rising(run));
    }
    return output(run, run.peak())
        .minus(output(run, 0))
        .over(load(run, run.peak()).minus(load(run, 0)));
  }

  private Formula nonLinearity(LoadRun run, int row) {
    Formula start =
        result.study().referenceLine() == ReferenceLine.LEAST_SQUARES
            ? mean("output", run).minus(factor(row).times(mean("load", run)))
            : output(run, 0);
    List<Formula> deviations = new ArrayList<>();
    for (int i = 0; i <= run.peak(); i++) {
      deviations.add(output(run, i).minus(start.plus(factor(row).times(load(run, i)))));
    }
    return ofCapacity(new Formula.FurthestOf(deviations), row);
  }

  private Formula mean(String column, LoadRun run) {
    return new Formula.RowsSummary(Summary.MEAN, READINGS, column, List.of(rising(run)));
  }

  private static Formula ofCapacity(Formula counts, int row) {
    return HUNDRED.times(counts).over(factor(row).times(number("capacity")));
  }

  private Optional<Formula> hysteresis(LoadRun run, int row) {
    List<Formula> differences = new ArrayList<>();
    for (int i = run.peak() + 1; i < run.readings().size(); i++) {
      double kilograms = run.loadsKilograms().get(i);
      int at = run.rising(kilograms).orElse(-1);
      if (kilograms > 0 && at >= 0) {
        Formula counts = output(run, i).minus(output(run, at));
        boolean sameMass = run.massKilograms(i) == run.massKilograms(at);
        differences.add(
            sameMass ? counts : counts.minus(factor(row).times(load(run, i).minus(load(run, at)))));
      }
    }
    return differences.isEmpty()
        ? Optional.empty()
        : Optional.of(ofCapacity(new Formula.FurthestOf(differences), row));
  }

  private Formula noise(LoadRun run, int row) {
    List<Rows> all = List.of(new Rows(first(run), first(run) + run.readings().size() - 1));
    Formula squares = new Formula.RowsSummary(Summary.SUM_OF_SQUARES, READINGS, "noise", all);
    Formula count = new Formula.RowsSummary(Summary.COUNT, READINGS, "noise", all);
    return GRAMS_PER_KILOGRAM.times(squares.over(count).squareRoot()).over(factor(row));
  }

  private void errors(LevelClaim claim, int index) {
    if (claim.curves().isEmpty()) {
      return;
    }
    String table = RunTables.errorsId(claim, index);
    Map<String, LoadRun> byName = new HashMap<>();
    runs.forEach(run -> byName.put(run.run().name(), run.run()));
    List<LoadRun> rows =
        claim.curves().stream()
            .map(curve -> Objects.requireNonNull(byName.get(curve.run())))
            .toList();
    int steps = claim.curves().get(0).points().size();
    Map<String, IntFunction<Optional<Formula>>> columns = new LinkedHashMap<>();
    if (claim.correction().isEmpty()) {
      for (int step = 0; step < steps; step++) {
        int at = step;
        columns.put(RunTables.stepKey(step), row -> error(claim.level(), rows.get(row), at));
      }
    }
    columns.put("largest", row -> Optional.of(largest(claim, table, row, rows.get(row))));
    tables.set(table, columns);
  }

  /** Empty at the masses of the calibration, where the error is zero by what it means. */
  private Optional<Formula> error(CalibrationLevel level, LoadRun run, int step) {
    Formula net = output(run, step).minus(output(run, 0));
    List<Integer> masses =
        level.pointsKilograms().stream().map(mass -> run.rising(mass).orElse(-1)).toList();
    if (masses.contains(step) || masses.contains(-1) || (step == 0 && !masses.isEmpty())) {
      return Optional.empty();
    }
    Formula indicated =
        masses.isEmpty() ? net.over(number("default-factor")) : interpolated(net, run, masses, 0);
    return Optional.of(GRAMS_PER_KILOGRAM.times(indicated.minus(load(run, step))));
  }

  private Formula interpolated(Formula net, LoadRun run, List<Integer> masses, int piece) {
    Formula upper = output(run, masses.get(piece)).minus(output(run, 0));
    Formula mass = load(run, masses.get(piece));
    Formula here;
    if (piece == 0) {
      here = net.times(mass.over(upper));
    } else {
      Formula lower = output(run, masses.get(piece - 1)).minus(output(run, 0));
      Formula from = load(run, masses.get(piece - 1));
      Formula perCount = mass.minus(from).over(upper.minus(lower));
      here = from.plus(net.minus(lower).times(perCount));
    }
    return piece == masses.size() - 1
        ? here
        : new Formula.Above(net, upper, interpolated(net, run, masses, piece + 1), here);
  }

  private static Formula largest(LevelClaim claim, String table, int row, LoadRun run) {
    ClaimForm form = claim.form();
    List<Formula> counted = new ArrayList<>();
    counted.add(Formula.constant(0));
    for (int step = 0; step < run.readings().size(); step++) {
      Formula error = Formula.cell(table, RunTables.stepKey(step), row);
      double weight = form.weight(run.loadsKilograms().get(step));
      Formula weighed = weight == 1 ? error : error.over(Formula.constant(weight));
      counted.add(
          switch (form.side()) {
            case BOTH -> weighed.absolute();
            case ABOVE -> weighed;
            case BELOW -> Formula.constant(0).minus(weighed);
          });
    }
    return new Formula.LargestOf(counted);
  }
}
