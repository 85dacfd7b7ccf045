package lotproof.reduce;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lotproof.study.CalibrationLevel;
import lotproof.study.MassClass;
import lotproof.study.Study;
import org.junit.jupiter.api.Test;

/** Expected errors are worked out by hand: indication minus load. */
class ErrorOfReadingTest {
  private static final ReducedRun RUN =
      new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL)
          .reduce(
              List.of(
                  Runs.run(
                      "R1",
                      "C1",
                      "B1",
                      new double[] {0, 10, 20, 50, 20, 0},
                      new double[] {500, 10_800, 21_000, 51_500, 21_100, 520})))
          .runs()
          .get(0);
  private final ErrorOfReading errors = new ErrorOfReading(Runs.KIT);

  @Test
  void usesTheDefaultFactorWithoutCalibration() {
    assertThat(grams(new CalibrationLevel.None())).containsExactly(0, 300, 500, 1000, 600, 20);
  }

  @Test
  void passesThroughTheCalibrationMass() {
    double[] grams = grams(calibrated(20.0));
    // 20500 counts for 20 kg
    assertThat(grams[2]).isZero();
    assertThat(grams[3]).isCloseTo(1000 * (51_000 / 1025.0 - 50), within(1e-9));
    assertThat(grams[4]).isCloseTo(1000 * (20_600 / 1025.0 - 20), within(1e-9));
  }

  @Test
  void interpolatesInPiecesBetweenTwoMasses() {
    double[] grams = grams(calibrated(20.0, 50.0));
    assertThat(grams[1]).isCloseTo(1000 * (10_300 / 1025.0 - 10), within(1e-9));
    assertThat(grams[2]).isZero();
    assertThat(grams[3]).isCloseTo(0, within(1e-9));
    // from (20500, 20) to (51000, 50): 100 counts are 100 * 30 / 30500 kg
    assertThat(grams[4]).isCloseTo(1000 * 100 * 30 / 30_500.0, within(1e-9));
  }

  @Test
  void hasNoCurveWithoutAReadingAtTheMass() {
    assertThat(errors.curve(RUN, calibrated(15.0))).isEmpty();
  }

  @Test
  void takesTheLargestSizeOverTheRun() {
    Optional<ErrorCurve> curve = errors.curve(RUN, new CalibrationLevel.None());
    assertThat(curve.orElseThrow().largestGrams()).isEqualTo(1000);
  }

  private static CalibrationLevel calibrated(Double... masses) {
    return new CalibrationLevel.Calibrated(List.of(masses), MassClass.M2);
  }

  private double[] grams(CalibrationLevel level) {
    return errors.curve(RUN, level).orElseThrow().points().stream()
        .mapToDouble(ErrorCurve.Point::errorGrams)
        .map(g -> Math.abs(g) < 1e-9 ? 0 : Math.rint(g * 1e9) / 1e9)
        .toArray();
  }
}
