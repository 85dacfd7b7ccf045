package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalDouble;
import lotproof.study.MassClass;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.aggregator.ArgumentsAccessor;
import org.junit.jupiter.params.provider.CsvSource;

/** OIML R 111-1:2004, Table 1 (rows 50 kg, 20 kg, 1 kg). */
class MassLimitsTest {
  @Test
  void readsNominalValues() {
    assertThat(MassLimits.grams(50, MassClass.M1)).hasValue(2.5);
    assertThat(MassLimits.grams(50, MassClass.E1)).hasValue(0.025);
    assertThat(MassLimits.grams(50, MassClass.M2_3)).hasValue(16);
    assertThat(MassLimits.grams(20, MassClass.M2)).hasValue(3);
    assertThat(MassLimits.grams(1, MassClass.F2)).hasValue(0.016);
  }

  /** Limits in mg of classes E1, E2, F1, F2, M1, M1-2, M2, M2-3, M3; NaN where there is none. */
  @ParameterizedTest
  @CsvSource({
    "50, 25, 80, 250, 800, 2500, 5000, 8000, 16000, 25000",
    "20, 10, 30, 100, 300, 1000, NaN, 3000, NaN, 10000",
    "1, 0.5, 1.6, 5, 16, 50, NaN, 160, NaN, 500"
  })
  void wholeRowsOfTheTable(ArgumentsAccessor row) {
    for (MassClass massClass : MassClass.values()) {
      double expected = row.getDouble(1 + massClass.ordinal()) / 1000;
      OptionalDouble actual = MassLimits.grams(row.getDouble(0), massClass);
      if (Double.isNaN(expected)) {
        assertThat(actual).as("%s", massClass).isEmpty();
      } else {
        assertThat(actual).as("%s", massClass).hasValue(expected);
      }
    }
  }

  /** A copy of the table that goes round gives 0.02 mg for 5 mg of class M1; the standard 0.20. */
  @Test
  void smallWeightOfClassM1() {
    assertThat(MassLimits.grams(5e-6, MassClass.M1).orElseThrow())
        .isCloseTo(0.20e-3, within(1e-15));
  }

  @Test
  void addsTheLimitsOfTheWeightsThatMakeUpALoad() {
    // 35 kg = 20 + 10 + 5
    assertThat(MassLimits.grams(35, MassClass.M1).orElseThrow())
        .isCloseTo(1.0 + 0.5 + 0.25, within(1e-12));
    assertThat(MassLimits.grams(0, MassClass.M1)).hasValue(0);
  }

  @Test
  void hasNoLimitWhereTheStandardHasNone() {
    assertThat(MassLimits.grams(20, MassClass.M1_2)).isEmpty();
  }

  @Test
  void refusesWhatIsNoLoad() {
    assertThatThrownBy(() -> MassLimits.grams(Double.NaN, MassClass.M1))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("NaN");
  }
}
