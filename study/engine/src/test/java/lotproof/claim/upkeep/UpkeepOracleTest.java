package lotproof.claim.upkeep;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import lotproof.Oracle;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.RandomFactor;
import lotproof.study.BenchInfluences;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.Study;
import lotproof.study.Units;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

/** Production tests and rules for later lots against independent computations. */
class UpkeepOracleTest {
  private static final Oracle ORACLE = Oracle.load("upkeep");
  private static final ClaimForm SYMMETRIC = new ClaimForm.Symmetric();
  private static final ClaimForm NOT_ABOVE = new ClaimForm.OneSided(ClaimForm.Side.ABOVE);
  private static final ClaimForm NOT_BELOW = new ClaimForm.OneSided(ClaimForm.Side.BELOW);
  private static final Double[] ALL_LOADS = {10.0, 20.0, 35.0, 50.0};

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static LimitOptions options(OptionalDouble tester, Double... loads) {
    return new LimitOptions(Map.of(), List.of(loads), false, tester, false, 0.95);
  }

  private static ErrorCurve curve(NamedCsvRecord row, String name, String prefix, Double... loads) {
    List<ErrorCurve.Point> points = new ArrayList<>();
    for (double load : loads) {
      double grams = Double.parseDouble(row.getField(prefix + (int) load));
      points.add(new ErrorCurve.Point(load, Direction.RISING, grams));
    }
    return new ErrorCurve(name, row.getField("cell"), row.getField("board"), points);
  }

  private static PointLimit point(double load, double mean, Contribution... sources) {
    double variance = 0;
    for (Contribution source : sources) {
      variance += source.standardDeviationGrams() * source.standardDeviationGrams();
    }
    return new PointLimit(
        load, Direction.RISING, mean, Math.sqrt(variance), 1, 1, 1, List.of(sources));
  }

  private static Contribution source(Role role, double sd) {
    return new Contribution(role, role.title(), sd);
  }

  private static ProductionReadings kits(ClaimForm form, boolean foretold) {
    double[] means = {1.8, 0.9, 0.4, 1.5};
    double[] units = {0.9, 2.1, 3.6, 5.0};
    double[] repeats = {0.25, 0.3, 0.35, 0.4};
    List<PointLimit> points = new ArrayList<>();
    for (int i = 0; i < ALL_LOADS.length; i++) {
      points.add(
          point(
              ALL_LOADS[i],
              means[i],
              source(Role.CELL, units[i]),
              source(Role.RESIDUAL, repeats[i])));
    }
    List<ErrorCurve> curves = new ArrayList<>();
    List<ErrorCurve> own = new ArrayList<>();
    for (NamedCsvRecord row : Oracle.table("tested_kits.csv")) {
      curves.add(curve(row, row.getField("run"), "", ALL_LOADS));
      own.add(curve(row, row.getField("run"), "own ", ALL_LOADS));
    }
    return ProductionReadings.of(
        ErrorsInClaimForm.of(curves, form), points, foretold ? Optional.of(own) : Optional.empty());
  }

  /** Readings at one temperature that say nothing of the errors: each is of another kit. */
  private static ProductionReadings kitsThatReadAnything() {
    ProductionReadings kits = kits(SYMMETRIC, false);
    List<NamedCsvRecord> rows = Oracle.table("tested_kits.csv");
    List<ErrorCurve> own = new ArrayList<>();
    for (int i = 0; i < rows.size(); i++) {
      NamedCsvRecord other = rows.get(rows.size() - 1 - i);
      own.add(curve(other, rows.get(i).getField("run"), "own ", ALL_LOADS));
    }
    return ProductionReadings.of(kits.errors(), kits.points(), Optional.of(own));
  }

  private static void checkPair(
      String id, ProductionReadings errors, LimitOptions options, double figure, double mass) {
    ProductionTest test =
        FinishedTestCalculator.of(new PlannedTest(errors, options, figure, mass), 0.95, true);
    assertThat(test).as(id).isInstanceOf(ProductionTest.Finished.class);
    ProductionTest.Finished found = (ProductionTest.Finished) test;
    for (ProductionTest.LoadGuard guard : found.loads()) {
      String load = " " + (int) guard.loadKilograms();
      ORACLE.check(id, "allows" + load, guard.allowsGrams());
      if (!guard.tested()) {
        ORACLE.check(id, "offset" + load, guard.offsetGrams());
        ORACLE.check(id, "slope" + load, guard.slope());
        ORACLE.check(id, "allowance" + load, guard.uncertaintyGrams());
      }
    }
    ORACLE.check(id, "bound", found.boundGrams());
    ORACLE.check(id, "accept", found.acceptGrams());
    ORACLE.check(id, "passed", found.expected().passed());
    ORACLE.check(id, "consumer", found.expected().consumersRisk());
    ORACLE.check(id, "producer", found.expected().producersRisk());
    ORACLE.check(id, "yield", found.expected().yieldFraction());
  }

  @Test
  void testsOfFinishedKits() {
    OptionalDouble u = OptionalDouble.of(0.5);
    ProductionReadings both = kits(SYMMETRIC, false);
    checkPair("P1", both, options(u, ALL_LOADS), 8, 1.5);
    checkPair("P2", both, options(u, 50.0), 12, 1.5);
    checkPair("P3", repeated(both), options(OptionalDouble.empty(), 50.0), 12, 1.5);
    checkPair("P8", both, options(u, ALL_LOADS), 2, 0.2);
  }

  @Test
  void testsOfFinishedKitsForOtherFigures() {
    OptionalDouble u = OptionalDouble.of(0.5);
    checkPair("P4", kits(NOT_BELOW, false), options(u, 50.0), 10, 1.5);
    checkPair("P5", kits(NOT_ABOVE, false), options(u, 20.0, 50.0), 10, 1.5);
    checkPair("P6", kits(SYMMETRIC, true), options(u, 50.0), 12, 1.5);
    checkPair("P9", kitsThatReadAnything(), options(u, 50.0), 24, 1.5);
    checkPair("P7", kits(new ClaimForm.OfReading(0.0001, 1), false), options(u, 50.0), 3.2, 0.3);
  }

  private static ProductionReadings crossing(ClaimForm form, double[] rests) {
    return crossing(form, rests, new double[] {0.3, 0.4}, 20.0, 50.0);
  }

  private static ProductionReadings crossing(
      ClaimForm form, double[] rests, double[] repeats, Double... loads) {
    List<PointLimit> points = new ArrayList<>();
    for (int i = 0; i < loads.length; i++) {
      double pair = Math.sqrt(rests[i] * rests[i] - repeats[i] * repeats[i]);
      points.add(
          point(
              loads[i],
              1,
              source(Role.CELL, 3),
              source(Role.BOARD, 1),
              source(Role.PAIR, pair),
              source(Role.RESIDUAL, repeats[i])));
    }
    List<ErrorCurve> curves = new ArrayList<>();
    for (NamedCsvRecord row : Oracle.table("crossed_kits.csv")) {
      curves.add(curve(row, "r" + curves.size(), "", loads));
    }
    return repeated(
        ProductionReadings.of(ErrorsInClaimForm.of(curves, form), points, Optional.empty()));
  }

  /** With the repeatability of the points taken as known. */
  private static ProductionReadings repeated(ProductionReadings all) {
    return new ProductionReadings(
        all.errors(), all.atOneTemperature(), all.points(), new Repeatability(10, false));
  }

  private static Study study(ClaimRequest.Subject subject) {
    ClaimRequest claim =
        new ClaimRequest(0.95, 0.95, 1, SYMMETRIC, subject, OptionalDouble.empty(), List.of());
    return new Study(
        "Invented",
        "What can be claimed?",
        7,
        new Kit("cell", "board", 50, 80_000, 2_000_000, OptionalInt.empty()),
        new Units(List.of(), List.of(), Optional.empty()),
        new Design(Design.Kind.FULL_CROSSING, List.of(0.0, 20.0, 50.0), List.of()),
        Study.ReferenceLine.TERMINAL,
        Map.of(),
        List.of("bench damage"),
        claim,
        new Conditions(20, 25, MassClass.F2, List.of()),
        BenchInfluences.NONE);
  }

  private static void checkJig(
      String id,
      ClaimRequest.Subject subject,
      ProductionReadings errors,
      LimitOptions options,
      double figure) {
    ProductionTest test =
        JigTestCalculator.of(new PlannedTest(errors, options, figure, 1.5), study(subject), true);
    assertThat(test).as(id).isInstanceOf(ProductionTest.OnJig.class);
    ProductionTest.OnJig found = (ProductionTest.OnJig) test;
    ORACLE.check(id, "factor", found.factor());
    ORACLE.check(id, "governing", found.governingLoadKilograms());
    ORACLE.check(id, "allowance", found.allowanceGrams());
    for (ProductionTest.UnitLimit unit : found.units()) {
      String name = unit.kind().key() + " " + (int) unit.loadKilograms();
      ORACLE.check(id, name + " accept", unit.acceptGrams());
      ORACLE.check(id, name + " centre", unit.centreGrams());
      ORACLE.check(id, name + " consumer", unit.consumersRisk());
      ORACLE.check(id, name + " producer", unit.producersRisk());
      ORACLE.check(id, name + " yield", unit.yieldFraction());
      unit.centreMillivoltPerVolt()
          .ifPresent(signal -> ORACLE.check(id, name + " centre signal", signal));
      unit.acceptMillivoltPerVolt()
          .ifPresent(signal -> ORACLE.check(id, name + " accept signal", signal));
    }
  }

  @Test
  void testsOfUnitsAlone() {
    OptionalDouble u = OptionalDouble.of(0.5);
    OptionalDouble asBench = OptionalDouble.empty();
    double[] rests = {0.4, 0.5};
    double[] noisy = {0.4, 4};
    ProductionReadings both = crossing(SYMMETRIC, rests);
    ProductionReadings rough = crossing(SYMMETRIC, new double[] {6.5, 0.5});
    checkJig("Q1", ClaimRequest.Subject.KIT, rough, options(u, 50.0), 22);
    checkJig("Q2", ClaimRequest.Subject.KIT, both, options(u, 20.0, 50.0), 16);
    checkJig(
        "Q3", ClaimRequest.Subject.CELL, crossing(NOT_ABOVE, rests), options(asBench, 50.0), 14);
    checkJig(
        "Q4", ClaimRequest.Subject.BOARD, crossing(NOT_BELOW, noisy), options(asBench, 20.0), 9);
    double[] repeats = {0.3, 0.35, 0.4};
    ProductionReadings three =
        crossing(SYMMETRIC, new double[] {0.4, 3, 0.5}, repeats, 20.0, 35.0, 50.0);
    checkJig("Q5", ClaimRequest.Subject.KIT, three, options(asBench, 20.0, 50.0), 14);
  }

  private static ComponentsFit fit(List<NamedCsvRecord> rows, Map<Role, String> factors) {
    double[] values =
        rows.stream().mapToDouble(row -> Double.parseDouble(row.getField("50"))).toArray();
    List<RandomFactor> random = new ArrayList<>();
    for (Role role : Role.values()) {
      if (factors.containsKey(role)) {
        String column = factors.get(role);
        random.add(
            RandomFactor.of(
                role.component(), rows.stream().map(row -> row.getField(column)).toList()));
      }
    }
    return (ComponentsFit) ComponentsFitter.fit(new Observations(values, random), FitOptions.REML);
  }

  private static void checkRules(String id, LaterLotRules rules, double figure) {
    ORACLE.check(id, "mean limit", rules.meanLimit(5));
    ORACLE.check(id, "within sd", rules.withinSd());
    ORACLE.check(id, "sd limit", rules.sdLimit(5).orElseThrow());
    ORACLE.check(id, "seen shift", rules.seenShift(5));
    ORACLE.check(id, "seen spread", rules.seenSpreadRatio(5).orElseThrow());
    ORACLE.check(id, "extreme limit", rules.extremeLimit(5));
    ORACLE.check(id, "allowed beyond", rules.allowedBeyond(20, figure, 0.95));
    for (double moved : new double[] {0.5, 0.95, 1.4}) {
      ORACLE.check(id, "best content " + moved, rules.bestContent(moved * figure, 5, figure));
    }
  }

  private static LaterLotRules lots(
      String study, Role lot, Set<Component> partner, boolean twoSided) {
    List<NamedCsvRecord> rows =
        Oracle.table("kits_of_lots.csv").stream()
            .filter(row -> row.getField("study").equals(study))
            .toList();
    ComponentsFit fit = fit(rows, Map.of(lot, "lot"));
    return new LaterLotRules(fit, partner, 0.01, twoSided);
  }

  /** Two lots leave one degree of freedom for the mean, and so the cap of its quantile. */
  @Test
  void rulesForALaterLot() {
    checkRules("Z1", lots("two", Role.CELL_LOT, Set.of(), true), 8);
    checkRules("Z2", lots("six", Role.CELL_LOT, Set.of(), true), 2.2);
    checkRules("Z3", lots("six", Role.CELL_LOT, Set.of(), false), 2.2);
  }

  @Test
  void rulesForALaterLotOnPartnersThatTheFigureDoesNotSpeakOf() {
    ComponentsFit fit =
        fit(Oracle.table("crossed_kits.csv"), Map.of(Role.CELL, "cell", Role.BOARD, "board"));
    checkRules("Z4", new LaterLotRules(fit, Set.of(Role.BOARD.component()), 0.01, true), 11);
    Set<Component> lotOfBoards = Set.of(Role.BOARD_LOT.component());
    checkRules("Z5", lots("six", Role.BOARD_LOT, lotOfBoards, true), 8);
  }
}
