package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import lotproof.model.Role;
import lotproof.plan.Draws;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.LoadRun;
import lotproof.reduce.Runs;
import lotproof.study.Assumed;
import lotproof.study.CalibrationLevel;
import lotproof.study.MassClass;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What characteristics are carried over to, against errors of drawn readings that the reduction of
 * bench runs computes: another route to the same variances.
 */
class CarriedErrorsTest {
  private static final List<Double> LOADS = List.of(0.0, 10.0, 20.0, 50.0, 20.0, 10.0, 0.0);
  private static final double CAPACITY = 50;
  private static final int DRAWN = 20_000;
  private static final long SEED = 20261201;

  private static CalibrationLevel level(String masses) {
    return masses.isEmpty()
        ? new CalibrationLevel.None()
        : new CalibrationLevel.Calibrated(
            List.of(masses.split(";")).stream().map(Double::valueOf).toList(), MassClass.M1);
  }

  @ParameterizedTest(name = "calibrated at \"{0}\": cells {1} %, boards {2} %, combined {3} %")
  @CsvSource({
    "'', 0.3, 0.1, 0.02, 1",
    "'', 0, 0.1, 0, 2",
    "20, 0.3, 0.1, 0.02, 1",
    "20, 0, 0, 0, 1",
    "20;50, 0.3, 0.1, 0.05, 1",
    "10;20;50, 0.3, 0.1, 0.05, 0.5"
  })
  void variancesAreThoseOfReducedRuns(
      String masses, double cells, double boards, double combined, double repeat) {
    CalibrationLevel level = level(masses);
    Assumed.DataSheet assumed =
        new Assumed.DataSheet("test", cells, boards, combined, repeat, 0.3, 0.2);
    AssumedCurves curves = AssumedCurves.of(assumed, level, LOADS, Runs.KIT);
    // a point that cannot err is no point of the curves
    double[] withError =
        Arrays.stream(drawnVariances(assumed, level)).filter(v -> v > 1e-6).toArray();
    assertThat(curves.points()).isEqualTo(withError.length);
    for (int j = 0; j < withError.length; j++) {
      int point = j;
      double carried =
          AssumedCurves.SOURCES.stream().mapToDouble(s -> curves.variance(s, point)).sum();
      // relative standard error of a variance of so many draws is 1 %
      assertThat(carried)
          .as("point %d, seed %d", j, SEED)
          .isCloseTo(withError[j], within(0.04 * withError[j]));
      double ofCells = curves.variance(Role.CELL, j) + curves.variance(Role.CELL_LOT, j);
      assertThat(curves.variance(Role.CELL_LOT, j)).isCloseTo(0.3 * ofCells, within(1e-9));
    }
    Assumed.AtLevel worst = curves.atWorst(assumed, level);
    double total =
        Math.pow(worst.cellGrams(), 2) + Math.pow(worst.boardGrams(), 2) + worst.repeatVariance();
    double largest = Arrays.stream(withError).max().orElseThrow();
    assertThat(total).isCloseTo(largest, within(0.05 * largest));
  }

  private static double[] drawnVariances(Assumed.DataSheet c, CalibrationLevel level) {
    ErrorOfReading errors = new ErrorOfReading(Runs.KIT);
    double[] loads = LOADS.stream().mapToDouble(load -> load).toArray();
    double[] squares = new double[loads.length];
    double countsPerGram = Runs.KIT.defaultFactorCountsPerKilogram() / 1000;
    for (int i = 0; i < DRAWN; i++) {
      Draws draws = Draws.of(SEED, i);
      double span = c.cellPercent() * draws.gaussian() + c.boardPercent() * draws.gaussian();
      double bow = c.combinedPercent() * draws.gaussian();
      double lag = c.combinedPercent() * draws.gaussian();
      double[] outputs = new double[loads.length];
      for (int j = 0; j < loads.length; j++) {
        double share = loads[j] / CAPACITY;
        double bent = (bow + (j > 3 ? lag : 0)) / 100 * CAPACITY * 1000 * 4 * share * (1 - share);
        double grams =
            1000 * loads[j] * (1 + span / 100) + bent + c.repeatGrams() * draws.gaussian();
        outputs[j] = 5000 + countsPerGram * grams;
      }
      LoadRun run = Runs.run("r", "c", "b", loads, outputs);
      List<ErrorCurve.Point> points = errors.curve(run, run, level).orElseThrow().points();
      for (int j = 0; j < loads.length; j++) {
        squares[j] += points.get(j).errorGrams() * points.get(j).errorGrams() / DRAWN;
      }
    }
    return squares;
  }
}
