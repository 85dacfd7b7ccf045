package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A few studies of each kind of {@link SilentErrorsGuaranteeTest}. */
class SilentErrorsTest {
  private static final int STUDIES = 3;

  @ParameterizedTest
  @EnumSource(
      names = {
        "MATCHED_SMALL_ROTATION",
        "MATCHED_PAIRS",
        "MISSING_LARGEST_2",
        "MISSING_LARGEST_20",
        "DRIFT_UNCHECKED",
        "DRIFT_TENTH_CHECKED",
        "CLEAN_SMALL_ROTATION",
        "CLEAN_LOTS_CHECKED"
      })
  void noFigureIsWrongWithoutAWord(SilentErrors kind) {
    SilentErrors.Count count = kind.count(STUDIES);
    assertThat(count.silent()).as(kind.words()).isZero();
    assertThat(count.findings()).as(kind.words()).isEqualTo(kind.clean() ? 0 : STUDIES);
  }
}
