package lotproof.folder.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.SplittableRandom;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.Result;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class UnitsOfMeasureTest {

  /** Expected values follow from the exact definitions that the class names, by hand. */
  @ParameterizedTest
  @CsvSource({
    "5000, GRAM, KILOGRAM, 5",
    "0.1, GRAM, KILOGRAM, 0.0001",
    "1, POUND, KILOGRAM, 0.45359237",
    "110, POUND, KILOGRAM, 49.8951607",
    "9.80665, NEWTON, KILOGRAM, 1",
    "490.3325, NEWTON, KILOGRAM, 50",
    "1.5, KILOGRAM, GRAM, 1500",
    "32, FAHRENHEIT, CELSIUS, 0",
    "212, FAHRENHEIT, CELSIUS, 100",
    "-40, FAHRENHEIT, CELSIUS, -40",
    "68, FAHRENHEIT, CELSIUS, 20",
    "20, CELSIUS, FAHRENHEIT, 68",
    "2000, MICROVOLT_PER_VOLT, MILLIVOLT_PER_VOLT, 2",
    "85.899, COUNTS_PER_GRAM, COUNTS_PER_KILOGRAM, 85899"
  })
  void convertsByTheDefinitions(BigDecimal value, Unit from, Unit to, double expected) {
    assertThat(from.to(to, value)).isEqualTo(expected);
  }

  @ParameterizedTest
  @EnumSource(Unit.class)
  void eachUnitIsFoundByItsSymbolInItsDimensionOnly(Unit unit) {
    assertThat(UnitsOfMeasure.find(unit.dimension(), unit.symbol())).contains(unit);
    Arrays.stream(Dimension.values())
        .filter(other -> other != unit.dimension())
        .forEach(other -> assertThat(UnitsOfMeasure.find(other, unit.symbol())).isEmpty());
  }

  @Test
  void unitsOfDifferentKindsAreNotConverted() {
    assertThatThrownBy(() -> Unit.GRAM.to(Unit.CELSIUS, BigDecimal.ONE))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("g cannot be converted to °C");
  }

  @ParameterizedTest
  @ValueSource(strings = {"1", "-1.5", "+.5", "1.", "1e3", "1.5E-7", "0012"})
  void digitsAreNumbers(String text) {
    assertThat(UnitsOfMeasure.number(text)).contains(new BigDecimal(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        ".",
        "1,5",
        "1 000",
        "1'000",
        "NaN",
        "Infinity",
        "0x1F",
        "1e",
        "1e999",
        "−1",
        "1_0",
        "१",
        "1f"
      })
  void everythingElseIsNone(String text) {
    assertThat(UnitsOfMeasure.number(text)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"50kg", "kg", "50 50 kg", "1,5 kg", "", "50 kg 3", "NaN kg", "1e999 kg"})
  void whatIsNoQuantityIsNoneWithAReason(String text) {
    assertThat(UnitsOfMeasure.quantity(text, Dimension.MASS)).matches(Result::isRefused);
  }

  @Test
  void plainNumbersReadBackAsTheSameDouble() {
    long seed = 20260304;
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 20_000; i++) {
      double value = Double.longBitsToDouble(random.nextLong());
      if (Double.isFinite(value) && Math.abs(value) < 1e60 && Math.abs(value) > 1e-60) {
        String plain = UnitsOfMeasure.plain(value);
        assertThat(UnitsOfMeasure.number(plain).orElseThrow().doubleValue())
            .as("seed %d, value %d", seed, i)
            .isEqualTo(value);
      }
    }
    assertThat(UnitsOfMeasure.plain(-0.0)).isEqualTo("0");
    assertThat(UnitsOfMeasure.plain(1e7)).isEqualTo("10000000");
  }
}
