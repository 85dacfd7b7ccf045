package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.DoubleStream;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyAnalysis;
import lotproof.model.Role;
import lotproof.plan.Draws;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Invented;
import lotproof.plan.design.Layout;
import lotproof.study.BenchInfluences;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The bound of a rehearsal is that of the claim from the same simulated runs. */
class RehearsedBoundTest {
  private static final double[] LOADS = {5, 20, 35, 50, 35, 20, 5};
  private static final double CAPACITY = 50;
  private static final double FACTOR = 80_000;
  private static final PlannedClaim QUESTION =
      new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.empty());

  /** Errors in proportion to the load, with a little bow, hysteresis and noise of their own. */
  private static AssumedCurves uncalibrated() {
    return curves(200, 90, 0.25, 3, 6);
  }

  /** After a calibration: bow and hysteresis are all there is, and noise. */
  private static AssumedCurves calibrated() {
    return curves(0, 0, 0.2, 6, 0.8);
  }

  private static AssumedCurves curves(
      double cellGain, double boardGain, double lotShare, double bow, double noise) {
    int points = LOADS.length;
    double[] means = new double[points];
    Map<Role, double[][]> covariances = new EnumMap<>(Role.class);
    for (Role source : AssumedCurves.SOURCES) {
      covariances.put(source, new double[points][points]);
    }
    for (int x = 0; x < points; x++) {
      double load = LOADS[x] / 50;
      means[x] = cellGain / 10 * load - 2 * bow * load * (load - 0.4);
      for (int y = 0; y < points; y++) {
        double other = LOADS[y] / 50;
        double gain = load * other;
        double curved = bow * bow * load * (load - 0.4) * other * (other - 0.4) * 16;
        boolean bothFall = x > 3 && y > 3;
        double hysteresis = bothFall ? bow * bow * (1 - load) * (1 - other) * 6 : 0;
        double ofCells = cellGain * cellGain * gain + curved + hysteresis;
        double ofBoards = boardGain * boardGain * gain;
        covariances.get(Role.CELL)[x][y] = (1 - lotShare) * ofCells;
        covariances.get(Role.CELL_LOT)[x][y] = lotShare * ofCells;
        covariances.get(Role.BOARD)[x][y] = (1 - lotShare) * ofBoards;
        covariances.get(Role.BOARD_LOT)[x][y] = lotShare * ofBoards;
        covariances.get(Role.RESIDUAL)[x][y] = x == y ? noise * noise : 0;
      }
    }
    return new AssumedCurves(means, covariances);
  }

  /** The study that the layout plans, claiming at level none. */
  private static Study study(Layout layout) {
    List<Design.PlannedPair> pairs =
        pairs(layout).stream()
            .distinct()
            .map(
                pair ->
                    new Design.PlannedPair(
                        pair.get(0), pair.get(1), Collections.frequency(pairs(layout), pair)))
            .toList();
    return new Study(
        "Rehearsed",
        "What can be claimed?",
        7,
        new Kit("cell", "board", CAPACITY, FACTOR, 2_000_000, OptionalInt.empty()),
        layout.units(),
        new Design(
            Design.Kind.ROTATION,
            DoubleStream.concat(DoubleStream.of(0), Arrays.stream(LOADS)).boxed().toList(),
            pairs),
        Study.ReferenceLine.TERMINAL,
        Map.of(),
        List.of("bench damage"),
        new ClaimRequest(
            QUESTION.content(),
            QUESTION.confidence(),
            0.001,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.None(), OptionalDouble.empty()))),
        new Conditions(20, 25, MassClass.E2, List.of()),
        BenchInfluences.NONE);
  }

  private static List<List<String>> pairs(Layout layout) {
    List<String> cells = layout.units().serials(UnitKind.CELL);
    List<String> boards = layout.units().serials(UnitKind.BOARD);
    return layout.meetings().stream()
        .map(m -> List.of(cells.get(m.cell()), boards.get(m.board())))
        .toList();
  }

  /** The readings that show these errors after taring. */
  private static List<Reading> readings(Layout layout, double[][] byPoint) {
    List<Reading> readings = new ArrayList<>();
    List<List<String>> pairs = pairs(layout);
    for (int run = 0; run < pairs.size(); run++) {
      readings.add(reading(run, pairs.get(run), 0, 0));
      for (int x = 0; x < LOADS.length; x++) {
        readings.add(reading(run, pairs.get(run), x + 1, byPoint[x][run]));
      }
    }
    return readings;
  }

  private static Reading reading(int run, List<String> pair, int step, double errorGrams) {
    double load = step == 0 ? 0 : LOADS[step - 1];
    int row = 1 + run * (LOADS.length + 1) + step;
    return new Reading(
        "S1",
        Optional.empty(),
        "r" + run,
        step + 1,
        pair.get(0),
        pair.get(1),
        load,
        FACTOR * (load + errorGrams / 1000),
        Reading.Beside.NOTHING,
        new Provenance("drawn.csv", "00", row),
        row);
  }

  /** Fits of a rehearsal end near the top and leave out loads that decide nothing. */
  private static void same(Layout layout, AssumedCurves curves, int studies) {
    Rehearsal.Planned planned = new Rehearsal.Planned(layout, Optional.empty(), curves, QUESTION);
    SimulatedErrors errors = new SimulatedErrors(planned);
    RehearsedDesign design = ((RehearsedDesign.Outcome.Ready) RehearsedDesign.of(planned)).design();
    Study study = study(layout);
    double[] ratios = new double[studies];
    for (int i = 0; i < studies; i++) {
      double[][] byPoint = errors.draw(Draws.of(4711, i)).byPoint();
      LevelOutcome.Figure figure =
          new StudyAnalysis(study)
              .analyse(readings(layout, byPoint), List.of())
              .asDecided()
              .claims()
              .get(0)
              .figure()
              .orElseThrow();
      ratios[i] =
          design.bound(byPoint) / Math.max(figure.modelGrams(), figure.tested().largestGrams());
    }
    Arrays.sort(ratios);
    String seen = "seed 4711: rehearsed / claimed " + Arrays.toString(ratios);
    assertThat(ratios[studies / 2]).as(seen).isCloseTo(1, within(5e-4));
    assertThat(ratios[studies / 20]).as(seen).isGreaterThan(0.99);
    assertThat(ratios[studies - 1 - studies / 20]).as(seen).isLessThan(1.01);
  }

  @Test
  void theBoundOfARehearsalIsThatOfTheClaim() {
    same(Layout.of(DesignKind.ROTATION_2, Invented.units(3, 6), 1), uncalibrated(), 5);
  }

  @Test
  @Tag("slow")
  void boundsOfManyStudiesAreThoseOfTheClaim() {
    Layout rotation = Layout.of(DesignKind.ROTATION_2_REPEATS, Invented.units(5, 10), 1);
    same(rotation, uncalibrated(), 40);
    same(rotation, calibrated(), 40);
    Layout pairs = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(5, 10), 1);
    same(pairs, uncalibrated(), 40);
    same(pairs, calibrated(), 40);
  }
}
