package lotproof.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.plan.Draws;
import lotproof.study.CalibrationLevel;
import lotproof.study.Decision;
import lotproof.study.Design.PlannedPair;
import lotproof.study.UnitKind;
import lotproof.study.Units.Lot;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

class DemoStudyTest {
  private static DemoStudy demo;
  private static List<String[]> rows;

  @BeforeAll
  static void make() {
    demo = DemoStudy.create(DemoStudy.SEED, 1000);
    rows = new ArrayList<>();
    for (DemoStudy.SessionFile file : demo.sessionFiles()) {
      file.content().lines().skip(1).forEach(line -> rows.add(line.split(",", -1)));
    }
  }

  @Test
  void theSameSeedGivesTheSameStudy() {
    DemoStudy again = DemoStudy.create(DemoStudy.SEED, 1000);
    assertThat(again.sessionFiles()).isEqualTo(demo.sessionFiles());
    assertThat(again.study()).isEqualTo(demo.study());
    assertThat(again.truth()).isEqualTo(demo.truth());
    assertThat(DemoStudy.create(DemoStudy.SEED + 4, 1000).sessionFiles())
        .isNotEqualTo(demo.sessionFiles());
  }

  @Test
  void lotsAreAsPlanned() {
    assertThat(demo.study().units().cellLots().stream().map(l -> l.serials().size()))
        .containsExactly(12, 10, 10, 10, 8);
    assertThat(demo.study().units().boardLots().stream().map(l -> l.serials().size()))
        .containsExactly(10, 10, 10, 10, 10);
    assertThat(demo.study().units().cellLots().stream().flatMap(l -> l.serials().stream()))
        .allMatch(serial -> serial.matches("C[1-5]-\\d{4}"));
  }

  @Test
  void everyCellAndEveryBoardMeetsTwoOthersAndTwentyPairsAreRepeated() {
    List<PlannedPair> pairs = demo.study().design().pairs();
    assertThat(pairs).hasSize(100);
    assertThat(pairs.stream().collect(Collectors.groupingBy(PlannedPair::cell)).values())
        .hasSize(50)
        .allMatch(ofCell -> ofCell.size() == 2);
    assertThat(pairs.stream().collect(Collectors.groupingBy(PlannedPair::board)).values())
        .hasSize(50)
        .allMatch(ofBoard -> ofBoard.size() == 2);
    assertThat(pairs.stream().filter(pair -> pair.runs() == 2)).hasSize(20);
  }

  @Test
  void everyBoardLotMeetsSeveralCellLots() {
    Map<String, String> cellLot = demo.study().units().lotBySerial(UnitKind.CELL);
    Map<String, Set<String>> met = new TreeMap<>();
    for (Lot lot : demo.study().units().boardLots()) {
      met.put(lot.name(), new HashSet<>());
    }
    Map<String, String> boardLot = demo.study().units().lotBySerial(UnitKind.BOARD);
    for (PlannedPair pair : demo.study().design().pairs()) {
      met.get(boardLot.get(pair.board())).add(cellLot.get(pair.cell()));
    }
    assertThat(met.values()).allMatch(lots -> lots.size() >= 4);
  }

  @Test
  void repeatsAreMadeOnAnotherDay() {
    Map<List<String>, Set<String>> days = new LinkedHashMap<>();
    Map<List<String>, Set<String>> runs = new LinkedHashMap<>();
    for (String[] row : rows) {
      if (!row[11].equals("check")) {
        List<String> pair = List.of(row[4], row[5]);
        days.computeIfAbsent(pair, p -> new HashSet<>()).add(row[1].substring(0, 10));
        runs.computeIfAbsent(pair, p -> new HashSet<>()).add(row[2]);
      }
    }
    assertThat(runs.values().stream().filter(r -> r.size() == 2)).hasSize(20);
    runs.forEach((pair, ofPair) -> assertThat(days.get(pair)).hasSameSizeAs(ofPair));
  }

  @Test
  void aSessionHasTheCheckPairAtStartMiddleAndEnd() {
    for (DemoStudy.SessionFile file : demo.sessionFiles()) {
      List<String> runs =
          file.content().lines().skip(1).map(l -> l.split(",", -1)[2]).distinct().toList();
      List<String> checks =
          file.content()
              .lines()
              .filter(l -> l.endsWith(",check"))
              .map(l -> l.split(",", -1)[2])
              .distinct()
              .toList();
      assertThat(checks).hasSize(3);
      assertThat(checks.get(0)).isEqualTo(runs.get(0));
      assertThat(checks.get(1)).isEqualTo(runs.get(6));
      assertThat(checks.get(2)).isEqualTo(runs.get(runs.size() - 1));
    }
  }

  @Test
  void temperaturesStayWithinTheConditions() {
    for (String[] row : rows) {
      for (int column : new int[] {9, 10}) {
        assertThat(Double.parseDouble(row[column]))
            .isBetween(
                demo.study().conditions().lowestCelsius(),
                demo.study().conditions().highestCelsius());
      }
    }
  }

  @Test
  void thePlantedTroublesAreInTheData() {
    Map<?, ?> troubles = (Map<?, ?>) demo.truth().get("troubles");
    String missing = (String) troubles.get("planned run never made");
    assertThat(rows).noneMatch(row -> row[2].equals(missing));

    List<?> swappedRuns = (List<?>) troubles.get("runs with exchanged cell serials");
    List<?> trueCells = (List<?>) troubles.get("their true cells");
    assertThat(rows.stream().filter(r -> r[2].equals(swappedRuns.get(0))))
        .allMatch(r -> r[4].equals(trueCells.get(1)));
    assertThat(rows.stream().filter(r -> r[2].equals(swappedRuns.get(1))))
        .allMatch(r -> r[4].equals(trueCells.get(0)));
    assertThat(demo.decisions().get(0).value()).contains((String) trueCells.get(0));
    assertThat(demo.decisions().get(1).value()).contains((String) trueCells.get(1));

    String noisy = (String) troubles.get("board whose reference oscillates");
    double lotNoise =
        meanNoise(row -> !row[5].equals(noisy) && row[5].startsWith(noisy.substring(0, 2)));
    assertThat(meanNoise(row -> row[5].equals(noisy)) / lotNoise).isBetween(6.0, 9.0);
    assertThat(demo.decisions())
        .anyMatch(d -> d.serial().equals(noisy) && d.action() == Decision.Action.SCREENED);

    String overloaded = (String) troubles.get("cell overloaded after its first run");
    double[] zeros =
        rows.stream()
            .filter(row -> row[4].equals(overloaded) && row[3].equals("1"))
            .mapToDouble(row -> Double.parseDouble(row[7]) / 2_097_152)
            .toArray();
    assertThat(zeros).hasSize(2);
    assertThat(zeros[1] - zeros[0]).isCloseTo(0.16, within(0.01));
  }

  private static double meanNoise(java.util.function.Predicate<String[]> which) {
    return rows.stream()
        .filter(which)
        .mapToDouble(row -> Double.parseDouble(row[8]))
        .average()
        .orElseThrow();
  }

  /**
   * Without calibration the gain dominates, so the true figure is nearly the quantile of a normal
   * distribution at capacity, which is known in closed form.
   */
  @Test
  void theTrueFigureWithoutCalibrationIsTheOneOfTheGain() {
    int kits = 40_000;
    FutureKits future =
        new FutureKits(
            new SimulatedBench(HiveScale.bench()),
            HiveScale.cells(),
            HiveScale.boards(),
            List.of(0.0, 50.0),
            20,
            20);
    double[] errors =
        future
            .fromNewLots(
                List.of(new CalibrationLevel.None()), kits, DemoStudy.streams(7, 1).get(0))[0];
    double sd =
        Math.sqrt(sq(0.0025) + sq(0.004) + sq(0.001) + sq(0.0015) + sq(0.00008) + sq(0.00006));
    NormalDistribution logGain = new NormalDistribution(null, 0.001 - 0.0004 + 0.000_05 * 0.12, sd);
    double expected =
        new BrentSolver(1e-9)
            .solve(
                100,
                a ->
                    logGain.cumulativeProbability(Math.log1p(a / 50_000))
                        - logGain.cumulativeProbability(Math.log1p(-a / 50_000))
                        - 0.95,
                10,
                2000);
    // standard error of a 95 % quantile of 40 000 kits: 0.5 %
    assertThat(errors[kits * 95 / 100 - 1]).isCloseTo(expected, within(0.02 * expected));
  }

  private static double sq(double value) {
    return value * value;
  }

  @Test
  void drawnUnitsHaveTheSpreadOfTheirPopulation() {
    Population<CellTrait> cells = HiveScale.cells();
    Draws draws = DemoStudy.streams(11, 1).get(0);
    int lots = 4000;
    double between = 0;
    double within = 0;
    for (int lot = 0; lot < lots; lot++) {
      Traits<CellTrait> mean = cells.drawLot(draws);
      between += sq(mean.get(CellTrait.LOG_SENSITIVITY) - 0.001) / lots;
      double unit = cells.drawUnit(mean, draws).get(CellTrait.LOG_SENSITIVITY);
      within += sq(unit - mean.get(CellTrait.LOG_SENSITIVITY)) / lots;
    }
    // relative standard error of an sd from 4000 values: 1.1 %
    assertThat(Math.sqrt(between)).isCloseTo(0.0025, within(0.0025 * 0.045));
    assertThat(Math.sqrt(within)).isCloseTo(0.004, within(0.004 * 0.045));
  }
}
