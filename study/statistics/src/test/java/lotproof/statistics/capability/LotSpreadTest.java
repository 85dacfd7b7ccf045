package lotproof.statistics.capability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lotproof.statistics.Interval;
import org.junit.jupiter.api.Test;

/**
 * Second oracle: the same definitions in R 4.2.2, with anova(lm(y ~ lot)), qchisq, qt and uniroot
 * (tol 1e-14), on lots of unequal size.
 */
class LotSpreadTest {
  private static final List<double[]> APART =
      List.of(
          new double[] {5.1, 4.7, 5.6, 5.0},
          new double[] {6.3, 6.9, 6.1},
          new double[] {4.2, 4.9, 4.4, 4.0, 4.6});

  /** Lots that differ less than their units do. */
  private static final List<double[]> ALIKE =
      List.of(
          new double[] {5, 6, 7, 5.5}, new double[] {5.2, 6.1, 6.8}, new double[] {5.4, 6.2, 6.4});

  private static void close(double actual, double expected) {
    assertThat(actual).isCloseTo(expected, within(1e-8 * Math.abs(expected)));
  }

  @Test
  void lotsApart() {
    LotSpread spread = LotSpread.of(APART);
    close(spread.withinMeanSquare(), 0.139407407407407);
    close(spread.perLot(), 3.91666666666667);
    close(spread.tau(), 1.03729660153628);
    close(spread.tauUpper(0.95), 4.36552983766648);
    close(spread.tauLower(0.95), 0.653079022729216);
    close(spread.quantileLowerBound(3, 0.95), 0.503624087255845);
    close(spread.quantileLowerBound(0.4, 0.95), -1.59210884507087);
    close(spread.quantileLowerBound(-1, 0.95), -3.25204503869532);
  }

  /** The indices are what these limits of the spread make of them, at half the risk each. */
  @Test
  void indicesComeFromTheSpread() {
    LotSpread spread = LotSpread.of(APART);
    LotCapability.Overall overall =
        LotCapability.of(APART, ProcessLimits.between(0, 12), 0.9).overall();
    Interval pp = overall.ppInterval().orElseThrow();
    close(overall.pp().orElseThrow(), 2 / 1.03729660153628);
    // limits of the spread at 95 % are those of R above
    close(pp.lower(), 2 / 4.36552983766648);
    close(pp.upper(), 2 / 0.653079022729216);
    close(overall.ppkLowerBound(), spread.quantileLowerBound(3 * overall.ppk(), 0.9) / 3);
  }

  @Test
  void limitsThatAreNoNumbersAreRefused() {
    for (double wrong : new double[] {Double.NaN, Double.POSITIVE_INFINITY}) {
      assertThatThrownBy(() -> ProcessLimits.atLeast(wrong))
          .isInstanceOf(IllegalArgumentException.class)
          .hasMessageContaining("lower");
      assertThatThrownBy(() -> ProcessLimits.atMost(wrong))
          .isInstanceOf(IllegalArgumentException.class)
          .hasMessageContaining("upper");
      assertThatThrownBy(() -> ProcessLimits.between(0, 1, wrong))
          .isInstanceOf(IllegalArgumentException.class)
          .hasMessageContaining("target");
    }
  }

  @Test
  void lotsAlike() {
    LotSpread spread = LotSpread.of(ALIKE);
    close(spread.withinMeanSquare(), 0.576309523809524);
    close(spread.perLot(), 3.3);
    close(spread.tau(), 0.673630297550354);
    close(spread.tauUpper(0.9), 1.30791418808352);
    close(spread.tauLower(0.9), 0.548203277509706);
    close(spread.quantileLowerBound(2, 0.9), 0.89469505226256);
    close(spread.quantileLowerBound(-2, 0.9), -2.8959654112569);
  }
}
