package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A few studies of some kinds of {@link ShapeErrorsGuaranteeTest}. */
class ShapeErrorsTest {
  private static final int STUDIES = 8;

  @ParameterizedTest
  @EnumSource(names = {"NORMAL_12", "MINORITY_12", "TAILS_12", "MINORITY_50", "MINORITY_LOTS"})
  void noFigureIsWrongWithoutAWord(ShapeErrors kind) {
    ShapeErrors.Count count = kind.count(STUDIES);
    assertThat(count.silent()).as(kind.words()).isZero();
    assertThat(count.supported()).as(kind.words()).isEqualTo(count.figures());
    assertThat(count.stopped()).as(kind.words()).isEqualTo(count.found());
  }

  @ParameterizedTest
  @EnumSource(names = "MINORITY_50")
  void aMinorityOfUnitsIsFoundInFiftyOfEachKind(ShapeErrors kind) {
    assertThat(kind.count(STUDIES).found()).isGreaterThan(2);
  }
}
