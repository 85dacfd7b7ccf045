package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.SideEffects;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.SideTest;
import lotproof.study.SideTest.Effect;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** Effects that load runs do not show, from the reading to the sentence. */
class SideTestsTest {
  private static final int UNITS = 8;
  private static final SideTest CORNERS =
      new SideTest(
          Effect.OFF_CENTRE,
          "OC-",
          List.of(0.0, 20.0, 20.0, 20.0),
          "loads up to 100 mm off the centre");
  private static final SideTest DRIFT =
      new SideTest(Effect.DRIFT, "DR-", List.of(0.0, 20.0, 20.0), "seven days under load");

  private final InventedKits kits = new InventedKits(21, 1, 0);
  private final List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, UNITS);
  private final List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, UNITS);

  private static List<Reading> run(
      String name, String cell, String board, List<Double> loads, double... counts) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < counts.length; i++) {
      readings.add(
          new Reading(
              "S9",
              Optional.empty(),
              name,
              i + 1,
              cell,
              board,
              loads.get(i),
              counts[i],
              Reading.Beside.NOTHING,
              new Provenance("side.csv", "00", i + 1),
              i + 1));
    }
    return readings;
  }

  private static List<Double> grams(SideTest test, List<Reading> readings) {
    return new SideEffects(test, InventedKits.kit(), 50)
        .curve(new LoadRun("OC-1", "C", "B", readings)).stream()
            .flatMap(curve -> curve.points().stream())
            .map(ErrorCurve.Point::errorGrams)
            .toList();
  }

  @Test
  void anEffectThatGrowsWithTheLoadIsTakenAtTheLargest() {
    // 80 000 counts/kg: 16 counts are 0.2 g at 20 kg and 0.5 g at 50 kg
    List<Reading> corners =
        run("OC-1", "c0", "b0", CORNERS.loadsKilograms(), 100, 1_600_100, 1_600_116, 1_600_068);
    List<Double> grams = grams(CORNERS, corners);
    assertThat(grams).hasSize(2);
    assertThat(grams.get(0)).isCloseTo(0.5, within(1e-12));
    assertThat(grams.get(1)).isCloseTo(-1.0, within(1e-12));
  }

  @Test
  void driftIsTheSameAtEveryLoad() {
    List<Reading> drift =
        run("DR-1", "c0", "b0", DRIFT.loadsKilograms(), 100, 1_600_100, 1_600_180);
    assertThat(grams(DRIFT, drift)).hasSize(1);
    assertThat(grams(DRIFT, drift).get(0)).isCloseTo(1.0, within(1e-12));
  }

  @Test
  void aRunWithOtherLoadsShowsNothing() {
    assertThat(grams(DRIFT, run("DR-1", "c0", "b0", List.of(0.0, 20.0), 100, 1_600_100))).isEmpty();
  }

  private Study study(List<SideTest> tests, ClaimRequest.Subject subject) {
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            subject,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.None(), OptionalDouble.empty())));
    return InventedKits.study(
        kits.lotsOf(UnitKind.CELL, cells),
        kits.lotsOf(UnitKind.BOARD, boards),
        new Design(
            Design.Kind.ROTATION,
            InventedKits.LOADS,
            List.of(),
            Optional.empty(),
            tests,
            Design.Pairing.NOT_STATED),
        request,
        MassClass.F2);
  }

  private List<Reading> loadRuns() {
    List<Reading> readings = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < UNITS; i++) {
        readings.addAll(
            kits.run("r" + pass + "-" + i, cells.get(i), boards.get((i + pass) % UNITS))
                .run()
                .readings());
      }
    }
    return readings;
  }

  /** Corners of six kits, the effect 0.2 g apart from kit to kit at 20 kg. */
  private static List<Reading> corners() {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      double off = 16.0 * (i - 2);
      readings.addAll(
          run(
              "OC-" + i,
              "c" + i,
              "b" + i,
              CORNERS.loadsKilograms(),
              100,
              1_600_100,
              1_600_100 + off,
              1_600_100 - off));
    }
    return readings;
  }

  private static LevelOutcome.Figure figure(StudyResult result) {
    return result.asDecided().claims().get(0).figure().orElseThrow();
  }

  private static StudyResult analysed(
      Study study, List<Reading> loadRuns, List<Reading> sideRuns, List<Decision> decisions) {
    List<Reading> all = new ArrayList<>(loadRuns);
    all.addAll(sideRuns);
    return new StudyAnalysis(study).analyse(all, decisions);
  }

  @Test
  void aMeasuredEffectIsAddedAndSaid() {
    List<Reading> runs = loadRuns();
    StudyResult without =
        analysed(study(List.of(), ClaimRequest.Subject.KIT), runs, List.of(), List.of());
    StudyResult with =
        analysed(
            study(List.of(CORNERS, DRIFT), ClaimRequest.Subject.KIT), runs, corners(), List.of());

    SideAllowance allowance = figure(with).guards().sides().get(0);
    assertThat(allowance.largestGrams()).isCloseTo(1.5, within(1e-9));
    assertThat(allowance.runs()).isEqualTo(6);
    assertThat(allowance.grams()).isGreaterThanOrEqualTo(allowance.largestGrams());
    // side tests are no load runs: they change nothing but the allowance
    assertThat(figure(with).limitGrams())
        .isCloseTo(figure(without).limitGrams() + allowance.grams(), within(1e-9));
    assertThat(figure(with).tested().kits()).isEqualTo(figure(without).tested().kits());
    assertThat(figure(with).remarks())
        .contains(new LevelOutcome.Remark.SideTestTooSmall(SideTest.Effect.DRIFT, 0));
    assertThat(with.asDecided().claims().get(0).detail().orElseThrow().budget())
        .contains(
            new FigureDetail.BudgetLine(
                new FigureDetail.Contributor.Side(SideTest.Effect.OFF_CENTRE),
                allowance.grams(),
                0,
                allowance.grams()));
  }

  @Test
  void anExcludedUnitIsOutOfTheSideTestsToo() {
    Decision excluded =
        new Decision(
            "D1",
            "2026-03-05",
            "bench",
            Decision.Action.EXCLUDED,
            Decision.Target.CELL,
            "c5",
            Optional.empty(),
            Optional.empty(),
            "bench damage",
            "dropped",
            2);
    StudyResult result =
        analysed(
            study(List.of(CORNERS), ClaimRequest.Subject.KIT),
            loadRuns(),
            corners(),
            List.of(excluded));
    assertThat(figure(result).guards().sides().get(0).largestGrams()).isCloseTo(1.0, within(1e-9));
    assertThat(result.excluded()).anyMatch(out -> out.run().name().equals("OC-5"));
    LevelOutcome.Figure all = result.comparison().claims().get(0).figure().orElseThrow();
    assertThat(all.guards().sides().get(0).largestGrams()).isCloseTo(1.5, within(1e-9));
  }

  @Test
  void aBoardHasNoCentre() {
    StudyResult result =
        analysed(
            study(List.of(CORNERS), ClaimRequest.Subject.BOARD), loadRuns(), corners(), List.of());
    assertThat(figure(result).guards().sides()).isEmpty();
  }
}
