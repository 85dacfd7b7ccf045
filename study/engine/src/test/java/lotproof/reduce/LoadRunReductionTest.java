package lotproof.reduce;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lotproof.study.Characteristic;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import org.junit.jupiter.api.Test;

/** Expected values are worked out by hand from the definitions in docs/glossary.md. */
class LoadRunReductionTest {
  private static final double[] LOADS = {0, 20, 50, 20, 0};
  // terminal line: zero 500, slope (51500 - 500) / 50 = 1020; at 20 kg the line has 20900
  private static final double[] OUTPUTS = {500, 20_930, 51_500, 20_950, 504};

  private static ReducedRun reduced(Study.ReferenceLine line) {
    LoadRun run = Runs.run("R1", "C1", "B1", LOADS, OUTPUTS);
    return new LoadRunReduction(Runs.KIT, line).reduce(List.of(run)).runs().get(0);
  }

  @Test
  void readsCharacteristicsFromTheTerminalLine() {
    ReducedRun run = reduced(Study.ReferenceLine.TERMINAL);
    double span = 1020 * 50;
    assertThat(value(run, Characteristic.FACTOR)).isCloseTo(1020, within(1e-9));
    assertThat(value(run, Characteristic.SENSITIVITY)).isCloseTo(span / 25_000, within(1e-12));
    assertThat(value(run, Characteristic.ZERO)).isCloseTo(0.02, within(1e-15));
    assertThat(value(run, Characteristic.NON_LINEARITY)).isCloseTo(100 * 30 / span, within(1e-12));
    assertThat(value(run, Characteristic.HYSTERESIS)).isCloseTo(100 * 20 / span, within(1e-12));
    assertThat(value(run, Characteristic.ZERO_RETURN)).isCloseTo(1000 * 4 / 1020.0, within(1e-12));
    assertThat(run.value(Characteristic.NOISE)).isEmpty();
  }

  @Test
  void readsCharacteristicsFromTheBestFitLine() {
    ReducedRun run = reduced(Study.ReferenceLine.LEAST_SQUARES);
    // x = 0, 20, 50, mean 70/3; Sxx = 3800/3; y = 500, 20930, 51500: Sxy = sum((x - mean) * y)
    double sxy = (-70 / 3.0) * 500 + (-10 / 3.0) * 20_930 + (80 / 3.0) * 51_500;
    double slope = sxy / (3800 / 3.0);
    double intercept = (500 + 20_930 + 51_500) / 3.0 - slope * 70 / 3.0;
    assertThat(value(run, Characteristic.FACTOR)).isCloseTo(slope, within(1e-9));
    double at20 = 20_930 - intercept - 20 * slope;
    assertThat(value(run, Characteristic.NON_LINEARITY))
        .isCloseTo(100 * at20 / (50 * slope), within(1e-10));
  }

  @Test
  void leavesOutRunsThatCannotBeReducedAndSaysWhy() {
    LoadRun noZero = Runs.run("R2", "C1", "B1", new double[] {5, 50}, new double[] {1, 2});
    LoadRun falls = Runs.run("R3", "C1", "B1", new double[] {0, 50}, new double[] {2, 1});
    Reduction reduction =
        new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL).reduce(List.of(noZero, falls));
    assertThat(reduction.runs()).isEmpty();
    assertThat(reduction.issues())
        .extracting(DataIssue::message)
        .containsExactly(
            "run R2: the run does not begin without load, so it has no zero; it is left out",
            "run R3: the output does not rise with the load (wires swapped, or a dead channel); the"
                + " run is left out");
  }

  private static double value(ReducedRun run, Characteristic characteristic) {
    return run.value(characteristic).orElseThrow();
  }
}
