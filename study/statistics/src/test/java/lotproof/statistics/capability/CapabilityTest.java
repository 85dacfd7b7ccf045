package lotproof.statistics.capability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalDouble;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.NormalTolerance;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class CapabilityTest {
  private static final Oracle ORACLE = Oracle.load("capability");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static ProcessLimits between(double lower, double upper) {
    return new ProcessLimits(OptionalDouble.of(lower), OptionalDouble.of(upper));
  }

  private static ProcessLimits atMost(double upper) {
    return new ProcessLimits(OptionalDouble.empty(), OptionalDouble.of(upper));
  }

  private static ProcessLimits atLeast(double lower) {
    return new ProcessLimits(OptionalDouble.of(lower), OptionalDouble.empty());
  }

  @Test
  void handbookExample() {
    CapabilityIndices c = Capability.of(16, 2, 49, 50, between(8, 20), 0.95);
    ORACLE.check("K1", "Pp", c.pp().orElseThrow());
    ORACLE.check("K1", "PpkLower", c.ppkLower().orElseThrow());
    ORACLE.check("K1", "PpkUpper", c.ppkUpper().orElseThrow());
    ORACLE.check("K1", "Ppk", c.ppk());
    ORACLE.check("K2", "Pp lower", c.ppInterval().orElseThrow().lower());
    ORACLE.check("K2", "Pp upper", c.ppInterval().orElseThrow().upper());
    ORACLE.check("K2", "Ppk lower", c.ppkInterval().lower());
    ORACLE.check("K2", "Ppk upper", c.ppkInterval().upper());
    ORACLE.check("K2", "Ppk exact lower", c.ppkLowerBound());
    ORACLE.check("K2", "ppm outside", 1e6 * (c.fractionBelow() + c.fractionAbove()));
    Interval ninety = Capability.of(16, 2, 49, 50, between(8, 20), 0.9).ppkInterval();
    ORACLE.check("K2", "Ppk approximate one-sided lower", ninety.lower());
  }

  @Test
  void furnace() {
    double[] y = Oracle.column("nist_furnace.csv", "thickness");
    double mean = Summary.mean(y);
    double sd = Summary.sd(y);
    ORACLE.check("K3", "mean", mean);
    ORACLE.check("K3", "sd", sd);
    CapabilityIndices c = Capability.of(mean, sd, 167, 168, between(460, 660), 0.95);
    double pp = c.pp().orElseThrow();
    Interval ppInterval = c.ppInterval().orElseThrow();
    ORACLE.check("K3", "Pp", pp);
    ORACLE.check("K3", "Pp lower", ppInterval.lower());
    ORACLE.check("K3", "Pp upper", ppInterval.upper());
    ORACLE.check("K3", "PpkLower", c.ppkLower().orElseThrow());
    ORACLE.check("K3", "Ppk", c.ppk());
    ORACLE.check("K3", "Ppk lower", c.ppkInterval().lower());
    ORACLE.check("K3", "Ppk upper", c.ppkInterval().upper());
    ORACLE.check("K3", "Ppk exact lower", c.ppkLowerBound());
    ORACLE.check("K3", "% below", 100 * c.fractionBelow());
    ORACLE.check("K3", "% above", 100 * c.fractionAbove());
    CapabilityIndices lowerOnly = Capability.of(mean, sd, 167, 168, atLeast(460), 0.95);
    ORACLE.check("trap 2", "PpkLower interval lower", lowerOnly.ppkInterval().lower());
    ORACLE.check("trap 2", "PpkLower interval upper", lowerOnly.ppkInterval().upper());
    assertThat(lowerOnly.pp()).isEmpty();
    assertThat(lowerOnly.ppkUpper()).isEmpty();
    assertThat(lowerOnly.fractionAbove()).isZero();
  }

  /** Trap 2: a listing once printed the smaller of two interval ends, 1.128, as the index. */
  @Test
  void theIndexIsNotAnEndOfItsInterval() {
    double[] y = Oracle.column("nist_furnace.csv", "thickness");
    double ppk =
        Capability.of(Summary.mean(y), Summary.sd(y), 167, 168, between(460, 660), 0.95).ppk();
    assertThat(ppk).isCloseTo(1.273, within(5e-4));
  }

  @Test
  void fractionsOutsideForCentredProcesses() {
    double[] index = {1, 4.0 / 3, 5.0 / 3, 2};
    String[] name = {"1.0000", "1.3333", "1.6667", "2.0000"};
    for (int i = 0; i < index.length; i++) {
      double half = 3 * index[i];
      CapabilityIndices c = Capability.of(0, 1, 1e6, 1e6, between(-half, half), 0.95);
      ORACLE.check("K4", name[i], c.fractionBelow() + c.fractionAbove());
    }
  }

  @Test
  void theExactBoundIsTheIndexWhoseSampleIndexIsSeldomSoGood() {
    CapabilityIndices c = Capability.of(0, 1, 9, 10, atMost(3), 0.95);
    double k = NormalTolerance.oneSidedFactor(10, 1 - c.nearerFractionUpperBound(), 0.95);
    assertThat(k).isCloseTo(3, within(1e-9));
    assertThat(c.ppkLowerBound())
        .isCloseTo(
            DistributionQuantiles.normalUpper(c.nearerFractionUpperBound()) / 3, within(1e-12));
  }

  @Test
  void unitsDoNotMatter() {
    CapabilityIndices grams = Capability.of(16, 2, 19, 20, between(8, 20), 0.95);
    CapabilityIndices kilograms = Capability.of(0.016, 0.002, 19, 20, between(0.008, 0.020), 0.95);
    assertThat(kilograms.ppk()).isCloseTo(grams.ppk(), within(1e-12));
    assertThat(kilograms.ppkLowerBound()).isCloseTo(grams.ppkLowerBound(), within(1e-11));
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> Capability.of(1, 0, 9, 10, atMost(3), 0.95))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("sd must be above 0 and finite, was 0.0");
    assertThatThrownBy(() -> between(3, 3))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("lower limit 3.0 must lie below upper 3.0");
    assertThatThrownBy(() -> new ProcessLimits(OptionalDouble.empty(), OptionalDouble.empty()))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("limits need a lower or an upper value");
  }
}
