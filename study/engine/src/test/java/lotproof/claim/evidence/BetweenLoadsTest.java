package lotproof.claim.evidence;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.study.ClaimForm;
import org.junit.jupiter.api.Test;

/** The allowance for loads between the tested ones, on curves whose bend is known. */
class BetweenLoadsTest {
  private static final ClaimForm PLUS_MINUS = new ClaimForm.Symmetric();

  private static ErrorCurve curve(
      List<Double> rising, DoubleUnaryOperator up, List<Double> falling, DoubleUnaryOperator down) {
    List<ErrorCurve.Point> points = new ArrayList<>();
    rising.forEach(x -> points.add(point(x, Direction.RISING, up)));
    falling.forEach(x -> points.add(point(x, Direction.FALLING, down)));
    return new ErrorCurve("R1", "C1", "B1", points);
  }

  private static ErrorCurve.Point point(
      double kilograms, Direction direction, DoubleUnaryOperator grams) {
    return new ErrorCurve.Point(kilograms, direction, grams.applyAsDouble(kilograms));
  }

  private static double grams(ErrorCurve... curves) {
    return BetweenLoads.grams(List.of(curves), PLUS_MINUS).orElseThrow();
  }

  @Test
  void isExactForAParabola() {
    // 0.02 x (50 - x): the second derivative is 0.04 g/kg^2, the widest step 15 kg
    DoubleUnaryOperator bow = x -> 0.02 * x * (50 - x);
    ErrorCurve curve = curve(List.of(0.0, 10.0, 20.0, 35.0, 50.0), bow, List.of(), bow);
    assertThat(grams(curve)).isCloseTo(15.0 * 15 / 8 * 0.04, within(1e-12));
  }

  @Test
  void isNothingForAStraightLine() {
    ErrorCurve curve = curve(List.of(0.0, 10.0, 30.0, 50.0), x -> 3 * x, List.of(), x -> 0);
    assertThat(grams(curve)).isCloseTo(0, within(1e-12));
  }

  @Test
  void comesCloseToWhatASineDoesBetweenFiveSteps() {
    DoubleUnaryOperator bow = x -> 8 * Math.sin(Math.PI * x / 50);
    List<Double> loads = List.of(0.0, 10.0, 20.0, 30.0, 40.0, 50.0);
    double allowed = grams(curve(loads, bow, List.of(), bow));
    double worst = 0;
    for (double x = 0; x <= 50; x += 0.1) {
      double from = 10 * Math.min(4, Math.floor(x / 10));
      double share = (x - from) / 10;
      double straight =
          (1 - share) * bow.applyAsDouble(from) + share * bow.applyAsDouble(from + 10);
      worst = Math.max(worst, Math.abs(bow.applyAsDouble(x) - straight));
    }
    // a sine whose top lies between two loads is the worst case: divided differences see 7 % less
    assertThat(allowed).isGreaterThan(0.92 * worst).isLessThan(1.5 * worst);
  }

  @Test
  void theFallingBranchBeginsAtThePeakAndTheMostBentKitCounts() {
    DoubleUnaryOperator flat = x -> 0;
    DoubleUnaryOperator bow = x -> 0.01 * x * (50 - x);
    List<Double> up = List.of(0.0, 25.0, 50.0);
    List<Double> down = List.of(25.0, 0.0);
    double ofFalling = grams(curve(up, flat, down, bow));
    assertThat(ofFalling).isCloseTo(25.0 * 25 / 8 * 0.02, within(1e-12));
    assertThat(grams(curve(up, flat, down, flat), curve(up, flat, down, bow))).isEqualTo(ofFalling);
  }

  @Test
  void nothingIsKnownOfTheBendFromTwoLoads() {
    ErrorCurve curve = curve(List.of(0.0, 50.0), x -> x, List.of(0.0), x -> 1);
    assertThat(BetweenLoads.grams(List.of(curve), PLUS_MINUS)).isEmpty();
  }

  @Test
  void aShareOfTheReadingCountsAtTheLowerEndOfAStep() {
    DoubleUnaryOperator bow = x -> 0.02 * x * (50 - x);
    ErrorCurve curve = curve(List.of(0.0, 25.0, 50.0), bow, List.of(), bow);
    // the step from 0 kg has the smaller weight: the constant alone
    assertThat(BetweenLoads.grams(List.of(curve), new ClaimForm.OfReading(0.004, 10)).orElseThrow())
        .isCloseTo(25.0 * 25 / 8 * 0.04, within(1e-12));
  }
}
