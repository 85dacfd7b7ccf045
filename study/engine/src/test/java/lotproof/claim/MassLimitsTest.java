package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lotproof.study.MassClass;
import org.junit.jupiter.api.Test;

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
