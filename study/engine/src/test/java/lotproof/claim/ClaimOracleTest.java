package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.Oracle;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.ModifiedLargeSample;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is added to a figure, and what would bring it down, against independent computations. */
class ClaimOracleTest {
  private static final Oracle ORACLE = Oracle.load("claim");
  private static final ClaimForm SYMMETRIC = new ClaimForm.Symmetric();
  private static final double COUNTS_PER_GRAM = 80;

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static Study study(InventedKits kits, int units, Design design, ClaimForm form) {
    return study(kits, units, design, form, OptionalDouble.empty());
  }

  private static Study study(
      InventedKits kits, int units, Design design, ClaimForm form, OptionalDouble assumedLotRatio) {
    ClaimRequest claim =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            form,
            ClaimRequest.Subject.KIT,
            assumedLotRatio,
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.None(), OptionalDouble.empty())));
    InventedKits oneLot = new InventedKits(1, 1, 0);
    return InventedKits.study(
        kits.lotsOf(UnitKind.CELL, kits.units(UnitKind.CELL, units)),
        oneLot.lotsOf(UnitKind.BOARD, oneLot.units(UnitKind.BOARD, units)),
        design,
        claim,
        MassClass.F2);
  }

  private static CalibrationLevel calibrated(Double... masses) {
    return masses.length == 0
        ? new CalibrationLevel.None()
        : new CalibrationLevel.Calibrated(List.of(masses), MassClass.M1);
  }

  @Test
  void guardBandsOfMasses() {
    List<Double> all = List.of(0.0, 10.0, 20.0, 35.0, 50.0);
    checkGuards("G1", all, SYMMETRIC, calibrated());
    checkGuards("G2", all, SYMMETRIC, calibrated(20.0));
    checkGuards("G3", all, SYMMETRIC, calibrated(10.0, 20.0));
    checkGuards("G4", List.of(0.0, 10.0, 20.0, 35.0), SYMMETRIC, calibrated(20.0, 50.0));
    checkGuards("G5", all, new ClaimForm.OfReading(0.001, 5), calibrated(10.0, 20.0));
  }

  private static void checkGuards(
      String id, List<Double> loads, ClaimForm form, CalibrationLevel level) {
    Design design = new Design(Design.Kind.ROTATION, loads, List.of());
    Study study = study(new InventedKits(1, 1, 0), 2, design, form);
    GuardBands guards = GuardBands.ofMasses(study, level).orElseThrow();
    ORACLE.check(id, "bench", guards.of(GuardBands.Kind.BENCH_MASSES));
    ORACLE.check(id, "buyer", guards.of(GuardBands.Kind.BUYER_MASSES));
  }

  private static List<Reading> run(
      String name, String cell, String board, List<Double> loads, double... grams) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < loads.size(); i++) {
      readings.add(
          new Reading(
              "S1",
              Optional.empty(),
              name,
              i + 1,
              cell,
              board,
              loads.get(i),
              COUNTS_PER_GRAM * (1000 * loads.get(i) + grams[i]),
              Reading.Beside.NOTHING,
              new Provenance("invented.csv", "00", i + 1),
              i + 1));
    }
    return readings;
  }

  private static double number(NamedCsvRecord row, String column) {
    return Double.parseDouble(row.getField(column));
  }

  private static LevelOutcome.Figure figure(Study study, List<Reading> readings) {
    return new StudyAnalysis(study)
        .analyse(readings, List.of())
        .asDecided()
        .claims()
        .get(0)
        .figure()
        .orElseThrow();
  }

  @Test
  void kitsPutTogetherOnReferencePartners() {
    checkReferencePartners("H1", SYMMETRIC);
    checkReferencePartners("H2", new ClaimForm.OneSided(ClaimForm.Side.BELOW));
  }

  private static void checkReferencePartners(String id, ClaimForm form) {
    List<Double> loads = List.of(0.0, 20.0, 50.0);
    List<Reading> readings = new ArrayList<>();
    for (NamedCsvRecord row : Oracle.table("reference_partners.csv")) {
      readings.addAll(
          run(
              row.getField("run"),
              row.getField("cell"),
              row.getField("board"),
              loads,
              0,
              number(row, "20"),
              number(row, "50")));
    }
    Design design =
        new Design(
            Design.Kind.REFERENCE_PARTNER,
            loads,
            List.of(),
            Optional.of(new Design.ReferencePartners("rc", "rb", false)),
            List.of(),
            Design.Pairing.NOT_STATED);
    InventedKits oneLot = new InventedKits(1, 1, 0);
    Study study =
        study(oneLot, 9, design, form)
            .withUnits(
                new Units(
                    oneLot.lotsOf(UnitKind.CELL, oneLot.units(UnitKind.CELL, 9)),
                    oneLot.lotsOf(UnitKind.BOARD, oneLot.units(UnitKind.BOARD, 8)),
                    Optional.empty()));
    LevelOutcome.Figure figure = figure(study, readings);
    ORACLE.check(id, "reference", figure.guards().of(GuardBands.Kind.REFERENCE));
    ORACLE.check(id, "virtual", figure.tested().largestGrams());
    ORACLE.check(id, "between", figure.guards().of(GuardBands.Kind.BETWEEN_LOADS));
    ORACLE.check(id, "within 20", figure.points().get(0).withinGrams());
    ORACLE.check(id, "within 50", figure.points().get(1).withinGrams());
    double largest = Math.max(figure.modelGrams(), figure.tested().largestGrams());
    // 0.8 g for the bench's 50 kg of class F2; no calibration, no temperature, no side test
    double added =
        0.8
            + figure.guards().of(GuardBands.Kind.BETWEEN_LOADS)
            + figure.guards().of(GuardBands.Kind.REFERENCE);
    assertThat(figure.limitGrams()).isCloseTo(largest + added, within(1e-9));
  }

  /** Kits of one lot, measured once each. */
  @Test
  void lotsThatAreAssumedToSpread() {
    List<Double> loads = List.of(0.0, 50.0);
    List<Reading> readings = new ArrayList<>();
    for (NamedCsvRecord row : Oracle.table("kits_of_lots.csv")) {
      if (row.getField("study").equals("six")) {
        int i = readings.size() / loads.size();
        readings.addAll(run("r" + i, "c" + i, "b" + i, loads, 0, number(row, "50")));
      }
    }
    Study study =
        study(
            new InventedKits(1, 1, 0),
            24,
            new Design(Design.Kind.DISJOINT_PAIRS, loads, List.of()),
            SYMMETRIC,
            OptionalDouble.of(0.5));
    ORACLE.check("H3", "within 50", figure(study, readings).points().get(0).withinGrams());
  }

  /** Twenty kits read the same load again: what changed is the drift. */
  @Test
  void allowancesOfSideTests() {
    SideAllowance fewLots = drift("two lots", 2);
    assertThat(fewLots.withoutLots()).isTrue();
    ORACLE.check("I1", "allowance", fewLots.modelGrams());
    ORACLE.check("I1", "largest", fewLots.largestGrams());
    SideAllowance manyLots = drift("ten lots", 10);
    assertThat(manyLots.withoutLots()).isFalse();
    ORACLE.check("I2", "allowance", manyLots.grams());
    ORACLE.check("I3", "allowance", drift("one far", 1).grams());
  }

  private static SideAllowance drift(String column, int lots) {
    int units = 20;
    InventedKits kits = new InventedKits(21, lots, 0);
    SideTest test =
        new SideTest(SideTest.Effect.DRIFT, "DR-", List.of(0.0, 20.0, 20.0), "a week under load");
    Design design =
        new Design(
            Design.Kind.ROTATION,
            InventedKits.LOADS,
            List.of(),
            Optional.empty(),
            List.of(test),
            Design.Pairing.NOT_STATED);
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
    List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, units);
    List<Reading> readings = new ArrayList<>();
    List<NamedCsvRecord> drifts = Oracle.table("drift_of_kits.csv");
    for (int i = 0; i < units; i++) {
      for (int pass = 0; pass < 2; pass++) {
        ReducedRun run =
            kits.run("r" + pass + "-" + i, cells.get(i), boards.get((i + pass) % units));
        readings.addAll(run.run().readings());
      }
      NamedCsvRecord row = drifts.get(i);
      readings.addAll(
          run(
              "DR-" + i,
              row.getField("cell"),
              row.getField("board"),
              test.loadsKilograms(),
              0,
              0,
              number(row, column)));
    }
    return figure(study(kits, units, design, SYMMETRIC), readings).guards().sides().get(0);
  }

  @ParameterizedTest
  @CsvSource({"1.05,0.95", "1.2,0.95", "1.5,0.9", "2.0,0.95"})
  void degreesOfFreedomOfAnUpperLimit(double ratio, double confidence) {
    double found = RemedyCalculator.degreesOfFreedom(ratio, confidence);
    ORACLE.check("E1", "freedom " + ratio + " " + confidence, found);
    ORACLE.check("E1", "exact freedom " + ratio + " " + confidence, found);
  }

  @ParameterizedTest
  @CsvSource({"2,10,0.3", "6,4,0.5", "40,2,0.1"})
  void upperLimitOfTheTotalSpreadOfLots(int lots, int perLot, double share) {
    ORACLE.check(
        "E2",
        "factor " + lots + " " + perLot + " " + share,
        ModifiedLargeSample.fewLotsFactor(lots, perLot, share, 0.95));
  }

  @ParameterizedTest
  @CsvSource({"0.2", "0.5", "0.9"})
  void spreadThatAScreenLeaves(double share) {
    ORACLE.check("E3", "cut " + share, RemedyCalculator.truncation(share));
  }
}
