package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Summary;
import lotproof.report.model.Table.Column;
import lotproof.study.Characteristic;
import lotproof.study.Limits;

/** Formulas of components, limits, capability, lots, errors at each load and figures. */
final class LiveResults {
  private static final String COMPONENTS = "components";
  private static final String LIMITS = "limits";
  private static final String CAPABILITY = "capability";
  private static final String LOTS = "lots";
  private static final String FREE = "distribution-free";
  private static final String BOUNDS = "bounds";
  private static final String CHARACTERISTIC = "characteristic";
  private static final int DIGITS = 5;

  private static final Formula ONE = Formula.constant(1);

  private final LiveTables tables;

  LiveResults(LiveTables tables) {
    this.tables = tables;
  }

  /** Everything that follows from tables of a spread alone. */
  void applySpread() {
    components();
    limits();
  }

  /** Everything of a study. */
  void apply(StudyResult result) {
    applySpread();
    capability(result.study().limits(), SubjectRuns.measured(result.study()).plural());
    lots();
    distributionFree();
    List<LevelClaim> claims = result.asDecided().claims();
    for (int i = 0; i < claims.size(); i++) {
      points(claims.get(i), i);
      budget("budget-" + Levels.id(claims.get(i), i));
    }
    bounds(claims);
    figures(claims);
  }

  private int rows(String table) {
    return tables.table(table).map(t -> t.rows().size()).orElse(0);
  }

  /** Rows of a table whose words in a column are these. */
  private List<Integer> rowsWith(String table, String column, String words) {
    return IntStream.range(0, rows(table))
        .filter(row -> tables.words(table, column, row).equals(words))
        .boxed()
        .toList();
  }

  private double value(String table, String column, int row) {
    return tables.number(table, column, row).orElse(0);
  }

  private void components() {
    tables.insert(
        COMPONENTS,
        "sd",
        Column.significant("variance", "Variance", "", DIGITS),
        row -> Cell.number(Math.pow(value(COMPONENTS, "sd", row), 2)));
    tables.set(
        COMPONENTS,
        "variance",
        row -> {
          Formula sd = Formula.cell(COMPONENTS, "sd", row);
          return Optional.of(sd.times(sd));
        });
    tables.set(
        COMPONENTS,
        "share",
        row ->
            sumOfVariances(tables.words(COMPONENTS, CHARACTERISTIC, row))
                .map(sum -> Formula.cell(COMPONENTS, "variance", row).over(sum)));
  }

  private Optional<Formula> sumOfVariances(String characteristic) {
    List<Integer> rows = rowsWith(COMPONENTS, CHARACTERISTIC, characteristic);
    return rows.isEmpty()
        ? Optional.empty()
        : Optional.of(Formula.summary(Summary.SUM, COMPONENTS, "variance", rows));
  }

  private void limits() {
    tables.set(
        LIMITS,
        "total-sd",
        row -> sumOfVariances(tables.words(LIMITS, CHARACTERISTIC, row)).map(Formula::squareRoot));
    tables.insert(
        LIMITS,
        "total-sd",
        Column.significant("half-width", "Half-width by the model", "", DIGITS),
        row -> Cell.number((value(LIMITS, "upper", row) - value(LIMITS, "lower", row)) / 2));
    tables.insert(
        LIMITS,
        "half-width",
        Column.significant("factor", "Factor on the standard deviation", "", DIGITS),
        row -> {
          double sd = value(LIMITS, "total-sd", row);
          return sd > 0
              ? Cell.number(value(LIMITS, "half-width", row) / sd)
              : Cell.missing("no spread found");
        });
    tables.set(
        LIMITS,
        "factor",
        row ->
            Optional.of(
                Formula.cell(LIMITS, "half-width", row)
                    .over(Formula.cell(LIMITS, "total-sd", row))));
    tables.set(
        LIMITS,
        Map.of(
            "lower",
            row ->
                Optional.of(
                    Formula.cell(LIMITS, "mean", row)
                        .minus(Formula.cell(LIMITS, "half-width", row))),
            "upper",
            row ->
                Optional.of(
                    Formula.cell(LIMITS, "mean", row)
                        .plus(Formula.cell(LIMITS, "half-width", row)))));
  }

  /** A characteristic with its unit of measure, as tables name it. */
  private static String named(Characteristic c) {
    return c.title() + (c.unit().isEmpty() ? "" : " [" + c.unit() + "]");
  }

  private Optional<Characteristic> characteristic(String words) {
    return Arrays.stream(Characteristic.values())
        .filter(c -> words.equals(named(c)) || words.equals(c.title()))
        .findFirst();
  }

  /** Row of the limits of a row of the capability, -1 without one. */
  private int limitsRow(int row) {
    return characteristic(tables.words(CAPABILITY, CHARACTERISTIC, row))
        .map(c -> rowsWith(LIMITS, CHARACTERISTIC, named(c)))
        .filter(rows -> !rows.isEmpty())
        .map(rows -> rows.get(0))
        .orElse(-1);
  }

  private void capability(Map<Characteristic, Limits> specified, String plural) {
    insertCopy("sd", "Standard deviation of " + plural, "total-sd");
    insertCopy("mean", "Mean", "mean");
    insertLimit("upper-limit", "Upper limit", specified, Limits::upper);
    insertLimit("lower-limit", "Lower limit", specified, Limits::lower);
    Formula three = Formula.constant(3);
    IntFunction<Formula> sd = row -> Formula.cell(CAPABILITY, "sd", row);
    IntFunction<Optional<Formula>> above =
        row -> limit("upper-limit", row).map(u -> u.minus(capabilityMean(row)).over(sd.apply(row)));
    IntFunction<Optional<Formula>> below =
        row -> limit("lower-limit", row).map(l -> capabilityMean(row).minus(l).over(sd.apply(row)));
    tables.set(
        CAPABILITY,
        Map.of(
            "pp",
            row ->
                limit("upper-limit", row)
                    .flatMap(u -> limit("lower-limit", row).map(u::minus))
                    .map(width -> width.over(Formula.constant(6).times(sd.apply(row)))),
            "ppk",
            row ->
                present(below.apply(row), above.apply(row))
                    .map(sides -> new Formula.SmallestOf(sides).over(three)),
            "outside",
            row ->
                present(below.apply(row), above.apply(row))
                    .flatMap(
                        sides -> sides.stream().map(side -> beyond(side)).reduce(Formula::plus))));
  }

  /** Probability of the normal distribution further out than so many standard deviations. */
  private static Formula beyond(Formula deviations) {
    return new Formula.Apply(Formula.Function.NORMAL_BELOW, Formula.constant(0).minus(deviations));
  }

  private static Optional<List<Formula>> present(
      Optional<Formula> first, Optional<Formula> second) {
    List<Formula> both = new ArrayList<>();
    first.ifPresent(both::add);
    second.ifPresent(both::add);
    return both.isEmpty() ? Optional.empty() : Optional.of(both);
  }

  private static Formula capabilityMean(int row) {
    return Formula.cell(CAPABILITY, "mean", row);
  }

  private Optional<Formula> limit(String column, int row) {
    return tables.number(CAPABILITY, column, row).isPresent()
        ? Optional.of(Formula.cell(CAPABILITY, column, row))
        : Optional.empty();
  }

  private void insertCopy(String key, String title, String from) {
    tables.insert(
        CAPABILITY,
        CHARACTERISTIC,
        Column.significant(key, title, "", DIGITS + 1),
        row ->
            limitsRow(row) < 0
                ? Cell.missing("no limits")
                : Cell.number(value(LIMITS, from, limitsRow(row))));
    tables.set(CAPABILITY, key, row -> Optional.of(Formula.cell(LIMITS, from, limitsRow(row))));
  }

  private void insertLimit(
      String key,
      String title,
      Map<Characteristic, Limits> specified,
      Function<Limits, OptionalDouble> side) {
    tables.insert(
        CAPABILITY,
        CHARACTERISTIC,
        Column.significant(key, title, "", DIGITS + 1),
        row ->
            CellTexts.optional(
                characteristic(tables.words(CAPABILITY, CHARACTERISTIC, row))
                    .flatMap(c -> Optional.ofNullable(specified.get(c)))
                    .map(side)
                    .orElse(OptionalDouble.empty()),
                "no such limit"));
  }

  private void lots() {
    IntFunction<Optional<Characteristic>> of =
        row -> characteristic(tables.words(LOTS, CHARACTERISTIC, row));
    List<List<Integer>> unitsOf =
        IntStream.range(0, rows(LOTS)).mapToObj(this::unitsOfLot).toList();
    Map<String, IntFunction<Optional<Formula>>> columns = new LinkedHashMap<>();
    Map.of(
            "units", Summary.COUNT,
            "mean", Summary.MEAN,
            "sd", Summary.STANDARD_DEVIATION,
            "smallest", Summary.SMALLEST,
            "largest", Summary.LARGEST)
        .forEach(
            (column, summary) ->
                columns.put(
                    column,
                    row ->
                        of.apply(row)
                            .filter(c -> !unitsOf.get(row).isEmpty())
                            .filter(c -> summary != Summary.STANDARD_DEVIATION || several(row))
                            .map(
                                c ->
                                    Formula.summary(
                                        summary, RunTables.UNITS, c.key(), unitsOf.get(row)))));
    tables.set(LOTS, columns);
  }

  private boolean several(int row) {
    return value(LOTS, "units", row) > 1;
  }

  private List<Integer> unitsOfLot(int row) {
    String kind = tables.words(LOTS, "kind", row).replace(" lot", "");
    return rowsWith(RunTables.UNITS, "lot", tables.words(LOTS, "lot", row)).stream()
        .filter(unit -> tables.words(RunTables.UNITS, "kind", unit).equals(kind))
        .toList();
  }

  /** How sure, and of how much, extremes of kits that share no unit are. */
  private void distributionFree() {
    Formula content = LiveRuns.number("content");
    IntFunction<Formula> kits = row -> Formula.cell(FREE, "disjoint", row);
    tables.set(
        FREE,
        Map.of(
            "one",
            row -> Optional.of(ONE.minus(content.toThe(kits.apply(row)))),
            "both",
            row -> {
              Formula n = kits.apply(row);
              Formula fewer = n.minus(ONE);
              return Optional.of(
                  ONE.minus(n.times(content.toThe(fewer))).plus(fewer.times(content.toThe(n))));
            },
            "supported",
            row -> Optional.of(supported(kits.apply(row)))));
  }

  private static Formula supported(Formula kits) {
    return ONE.minus(LiveRuns.number("confidence")).toThe(ONE.over(kits));
  }

  private void points(LevelClaim claim, int index) {
    String table = "points-" + Levels.id(claim, index);
    List<String> sources =
        tables.table(table).stream()
            .flatMap(t -> t.columns().stream())
            .map(Column::key)
            .filter(key -> key.startsWith("sd-"))
            .toList();
    tables.set(
        table,
        Map.of(
            "total",
            row ->
                sources.stream()
                    .filter(key -> tables.number(table, key, row).isPresent())
                    .map(key -> Formula.cell(table, key, row))
                    .<Formula>map(sd -> sd.times(sd))
                    .reduce(Formula::plus)
                    .map(Formula::squareRoot),
            "largest",
            row -> largestAt(claim, index, table, row)));
  }

  /** Largest tested error at the load and direction of a row, over the runs of the claim. */
  private Optional<Formula> largestAt(LevelClaim claim, int index, String table, int row) {
    String errors = RunTables.errorsId(claim, index);
    double load = value(table, "load", row);
    String direction = tables.words(table, "direction", row);
    double wanted = value(table, "largest", row);
    Function<String, Formula> at =
        key ->
            switch (claim.form().side()) {
              case BOTH ->
                  new Formula.LargestOf(
                      List.of(
                          Formula.largest(errors, key),
                          Formula.constant(0).minus(smallest(errors, key))));
              case ABOVE -> Formula.largest(errors, key);
              case BELOW -> Formula.constant(0).minus(smallest(errors, key));
            };
    List<ErrorCurve.Point> steps =
        claim.curves().isEmpty() ? List.of() : claim.curves().get(0).points();
    // a load may be applied more than once in one direction; then the value tells which step it is
    return tables.table(errors).isEmpty()
        ? Optional.empty()
        : IntStream.range(0, steps.size())
            .filter(step -> steps.get(step).loadKilograms() == load)
            .filter(step -> steps.get(step).direction().word().equals(direction))
            .mapToObj(step -> at.apply(RunTables.stepKey(step)))
            .filter(formula -> tables.agrees(wanted, formula))
            .findFirst();
  }

  private static Formula smallest(String table, String column) {
    return new Formula.ColumnSummary(Summary.SMALLEST, table, column);
  }

  private void budget(String table) {
    List<Integer> spreads =
        IntStream.range(0, rows(table))
            .filter(row -> tables.number(table, "share", row).isPresent())
            .boxed()
            .toList();
    tables.set(
        table,
        Map.of(
            "share",
            row -> {
              Formula size = Formula.cell(table, "size", row);
              return Optional.of(
                  size.times(size)
                      .over(Formula.summary(Summary.SUM_OF_SQUARES, table, "size", spreads)));
            },
            "cost",
            row ->
                spreads.contains(row)
                    ? Optional.empty()
                    : Optional.of(Formula.cell(table, "size", row))));
  }

  private void bounds(List<LevelClaim> claims) {
    List<Integer> withFigure =
        IntStream.range(0, claims.size())
            .filter(i -> claims.get(i).figure().isPresent())
            .boxed()
            .toList();
    Formula content = LiveRuns.number("content");
    IntFunction<Formula> kits = row -> Formula.cell(BOUNDS, "disjoint", row);
    tables.set(
        BOUNDS,
        Map.of(
            "tested",
            row -> {
              int level = withFigure.get(row);
              String errors = RunTables.errorsId(claims.get(level), level);
              return tables.table(errors).map(t -> Formula.largest(errors, "largest"));
            },
            "tested-confidence",
            row -> Optional.of(ONE.minus(content.toThe(kits.apply(row)))),
            "tested-content",
            row -> Optional.of(supported(kits.apply(row)))));
    tables.set(BOUNDS, "bound", row -> Optional.of(bound(row)));
  }

  private Formula bound(int row) {
    Formula sum =
        new Formula.LargestOf(
            List.of(Formula.cell(BOUNDS, "model", row), Formula.cell(BOUNDS, "tested", row)));
    for (String guard : List.of("bench-masses", "buyer-masses", "between-loads", "temperature")) {
      boolean there =
          tables
              .table(BOUNDS)
              .filter(t -> t.columns().stream().anyMatch(c -> c.key().equals(guard)))
              .isPresent();
      if (there && tables.number(BOUNDS, guard, row).isPresent()) {
        sum = sum.plus(Formula.cell(BOUNDS, guard, row));
      }
    }
    return sum;
  }

  private void figures(List<LevelClaim> claims) {
    String table = "figures";
    Formula thousand = Formula.constant(1000);
    tables.set(
        table,
        Map.of(
            "of-capacity",
            row ->
                Optional.of(
                    Formula.cell(table, "safest", row)
                        .over(thousand.times(LiveRuns.number("capacity")))),
            "margin",
            row -> {
              int above =
                  (int) claims.subList(0, row).stream().filter(c -> c.figure().isPresent()).count();
              return Optional.of(
                  Formula.cell(table, "wanted", row).minus(Formula.cell(BOUNDS, "bound", above)));
            }));
  }
}
