package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Published analyses of variance. Expected values: NIST/SEMATECH e-Handbook sections 7.4.4,
 * 3.5.1.4, 6.6.1.3, 3.2.3.3, 1.3.5.4 and AIAG Measurement Systems Analysis 4th ed. Table III-B 7,
 * all recomputed in exact rational arithmetic. (The handbook prints 8.70e-6 and 0.428 for 3.2.3.3;
 * its data give 8.65e-6 and 0.4301.)
 */
class BalancedAnovaTest {
  private static BalancedAnova analyse(String file, String value, String factors) {
    AnovaOutcome outcome = BalancedAnova.analyse(Studies.read(file, value, factors));
    assertThat(outcome).isInstanceOf(BalancedAnova.class);
    return (BalancedAnova) outcome;
  }

  @ParameterizedTest(name = "{0} {3}")
  @CsvSource({
    "nist_744_batches.csv, y, batch, batch, 147.733333333333333, 4, 11.7111111111111111, 1e-12",
    "nist_744_batches.csv, y, batch, residual, 18, 10, 1.8, 1e-12",
    "nist_furnace.csv, thickness, run;run:zone, run, 61442.2857142857, 20, 312.556944444444,"
        + " 1e-12",
    "nist_furnace.csv, thickness, run;run:zone, run:zone, 36014.5, 63, 225.382936507937, 1e-12",
    "nist_furnace.csv, thickness, run;run:zone, residual, 10155, 84, 120.892857142857, 1e-12",
    "nist_lithography.csv, linewidth, cassette;cassette:wafer, cassette, 127.402931709, 29,"
        + " 0.264523758005493, 1e-11",
    "nist_lithography.csv, linewidth, cassette;cassette:wafer, cassette:wafer, 25.5208902962, 60,"
        + " 0.0499703870362442, 1e-11",
    "nist_lithography.csv, linewidth, cassette;cassette:wafer, residual, 63.1786451119, 360,"
        + " 0.175496236421874, 1e-11",
    "nist_3233_nested.csv, y, machine;machine:operator, machine, 0.00030332, 4, 7.211e-6, 1e-10",
    "nist_3233_nested.csv, y, machine;machine:operator, machine:operator, 1.86e-5, 5, -9.86e-7,"
        + " 1e-10",
    "nist_3233_nested.csv, y, machine;machine:operator, residual, 0.000346, 40, 8.65e-6, 1e-10",
    "aiag_msa_10x3x3.csv, y, part;appraiser;part:appraiser, appraiser, 3.16726222222222, 2,"
        + " 0.0521229218107, 1e-10",
    "aiag_msa_10x3x3.csv, y, part;appraiser;part:appraiser, part, 88.3619344444444, 9,"
        + " 1.08867213992, 1e-10",
    "aiag_msa_10x3x3.csv, y, part;appraiser;part:appraiser, part:appraiser, 0.358982222222222, 18,"
        + " -0.00867958847737, 1e-10",
    "aiag_msa_10x3x3.csv, y, part;appraiser;part:appraiser, residual, 2.75893333333333, 60,"
        + " 0.0459822222222, 1e-10",
    "aiag_msa_10x3x3.csv, y, part;appraiser, residual, 3.11791555555556, 78, 0.0399732763533,"
        + " 1e-10",
    "lme4_penicillin.csv, diameter, plate;sample, sample, 449.222222222222, 5, 3.73091787439614,"
        + " 1e-12",
    "lme4_dyestuff2.csv, Yield, Batch, Batch, 41.6816288, 5, -1.321912768, 1e-12",
  })
  void publishedLines(
      String file,
      String value,
      String factors,
      String name,
      double sum,
      int freedom,
      double raw,
      double tolerance) {
    AnovaLine line = analyse(file, value, factors).line(name);
    // sums are printed with 12 digits in the source
    assertThat(line.sumOfSquares()).isCloseTo(sum, within(3e-12 * sum));
    assertThat(line.degreesOfFreedom()).isEqualTo(freedom);
    assertThat(line.rawVariance()).isCloseTo(raw, within(tolerance * Math.abs(raw)));
    assertThat(line.variance()).isEqualTo(Math.max(0, line.rawVariance()));
  }

  @Test
  void ratiosUseTheRightDenominator() {
    BalancedAnova nested = analyse("nist_3233_nested.csv", "y", "machine;machine:operator");
    assertThat(nested.line("machine").test())
        .hasValueSatisfying(
            test -> {
              assertThat(test.against()).isEqualTo("machine:operator");
              assertThat(test.ratio()).isCloseTo(20.3844086, within(1e-7));
              assertThat(test.probability()).isCloseTo(0.00269263023307187, within(1e-12));
            });
    assertThat(nested.line("machine:operator").test())
        .hasValueSatisfying(test -> assertThat(test.ratio()).isCloseTo(0.4300578035, within(1e-9)));
    assertThat(nested.line("residual").test()).isEmpty();
    BalancedAnova crossed = analyse("aiag_msa_10x3x3.csv", "y", "part;appraiser;part:appraiser");
    assertThat(crossed.line("part").test())
        .hasValueSatisfying(test -> assertThat(test.ratio()).isCloseTo(492.2914227, within(1e-6)));
    assertThat(crossed.line("part:appraiser").test())
        .hasValueSatisfying(
            test -> {
              assertThat(test.ratio()).isCloseTo(0.4337210301, within(1e-9));
              assertThat(test.probability()).isCloseTo(0.974106404329, within(1e-11));
            });
  }

  @Test
  void sharesAddUpAfterCutting() {
    List<AnovaLine> lines =
        analyse("nist_3233_nested.csv", "y", "machine;machine:operator").lines();
    assertThat(lines.stream().mapToDouble(AnovaLine::share).sum()).isCloseTo(1, within(1e-14));
    assertThat(lines.get(0).share()).isCloseTo(0.45463716033037, within(1e-10));
    assertThat(lines.get(1).share()).isZero();
  }

  @Test
  void unbalancedLayoutsAreRefused() {
    Observations study = Studies.read("crossed_small.csv", "y", "cell;board");
    assertThat(BalancedAnova.analyse(study)).isInstanceOf(NotEstimable.class);
    // equal sizes, but a rotation: connected without being proportional
    Observations rotation =
        Studies.rotation(
            new Studies.Shape(6, 6, 2, 0, false, false), new double[] {1, 1, 0, 1, 0}, 0, 1);
    assertThat(BalancedAnova.analyse(rotation)).isInstanceOf(NotEstimable.class);
  }

  @Test
  void blocksOfTwoByTwoAreBalancedOnceTheBlockIsNamed() {
    // pairs of cells and boards; the residual of 2 x 2 blocks needs the block as a factor
    Observations study =
        Studies.rotation(
            new Studies.Shape(2, 2, 2, 0, false, false), new double[] {1, 1, 0, 1, 0}, 0, 2);
    assertThat(BalancedAnova.analyse(study)).isInstanceOf(BalancedAnova.class);
  }
}
