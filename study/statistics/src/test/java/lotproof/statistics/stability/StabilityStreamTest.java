package lotproof.statistics.stability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.stability.StabilityCurve.Measure;
import org.junit.jupiter.api.Test;

class StabilityStreamTest {
  private static final long SEED = 99;

  private static double[] readings(int n) {
    Random random = new Random(SEED);
    double[] y = new double[n];
    for (int i = 0; i < n; i++) {
      y[i] = 1e6 + random.nextGaussian();
    }
    return y;
  }

  private static StabilityCurve streamed(double[] y) {
    StabilityStream stream = new StabilityStream();
    Arrays.stream(y).forEach(stream::add);
    return stream.curve(0.0125, 0.95).orElseThrow();
  }

  @Test
  void aShortStreamGivesTheOverlappingDeviationOfAllReadings() {
    double[] y = readings(5000);
    for (StabilityCurve.Point point : streamed(y).points()) {
      double exact = Stability.deviation(Measure.OVERLAPPING_ALLAN, y, point.factor());
      assertThat(point.deviation()).isCloseTo(exact, within(1e-9));
    }
  }

  @Test
  void aLongStreamGivesTheDeviationOfBlocksAndThenOfAverages() {
    int n = 3 * (1 << 18) + 1234;
    double[] y = readings(n);
    StabilityCurve curve = streamed(y);
    for (StabilityCurve.Point point : curve.points().subList(0, 2)) {
      double exact = Stability.deviation(Measure.ALLAN, y, point.factor());
      assertThat(point.deviation()).isCloseTo(exact, within(1e-8));
    }
    for (StabilityCurve.Point point : curve.points()) {
      double white = 1 / Math.sqrt(point.factor());
      assertThat(point.deviation() / white).isBetween(0.4, 1.8);
      assertThat(point.interval().lower()).isLessThanOrEqualTo(point.deviation());
    }
    // the averages hold the readings in order: the first is the mean of the first four
    StabilityStream stream = new StabilityStream();
    Arrays.stream(y).forEach(stream::add);
    assertThat(stream.averageFactor()).isEqualTo(4);
    double[] averages = stream.averages();
    for (int i : new int[] {0, 1, 77_777, averages.length - 1}) {
      double mean = (y[4 * i] + y[4 * i + 1] + y[4 * i + 2] + y[4 * i + 3]) / 4;
      assertThat(averages[i]).isCloseTo(mean, within(1e-8));
    }
  }

  @Test
  void equalReadingsHaveNoCurve() {
    StabilityStream stream = new StabilityStream();
    double[] equal = new double[100];
    Arrays.fill(equal, 5);
    Arrays.stream(equal).forEach(stream::add);
    assertThat(stream.curve(1, 0.95)).isEmpty();
  }
}
