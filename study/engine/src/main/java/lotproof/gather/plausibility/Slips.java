package lotproof.gather.plausibility;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** By which factors numbers go wrong between the bench and a file, and why. */
final class Slips {
  /** A value counts as wrong by a factor when it comes this near to it. */
  private static final double NEAR = 0.25;

  /** Runs of real units spread further about a factor than one value of a run does. */
  private static final double RUN_NEAR = 0.4;

  private static final List<Double> OF_ONE_VALUE =
      List.of(-1.0, 10.0, 100.0, 1000.0, 256.0, 0.1, 0.01, 0.001, 1 / 256.0);

  private Slips() {}

  /** Factors of a whole run, and their likely causes with what mends them. */
  private static final Map<Double, String> OF_RUN =
      Map.ofEntries(
          Map.entry(
              1000.0,
              "1000 times as steep; are the loads in g and not in kg?"
                  + " Or is a point between thousands missing or taken as a decimal point?"),
          Map.entry(
              1 / 1000.0,
              "1000 times as flat; are the loads in kg and not in g, or in g under a header in kg?"
                  + " Name the column \"load [g]\" or \"load [kg]\", in the file or with --column"),
          Map.entry(
              2.2046226,
              "2.2046 times as steep; is a kg taken as a lb?"
                  + " Name the column \"load [kg]\", in the file or with --column"),
          Map.entry(
              1 / 2.2046226,
              "2.2046 times as flat; is a lb taken as a kg?"
                  + " Name the column \"load [lb]\", in the file or with --column"),
          Map.entry(
              10.0,
              "about 10 times as steep; is a kg taken as a N (9.807), or is a decimal mark lost?"),
          Map.entry(
              1 / 10.0,
              "about 10 times as flat; is a N taken as a kg (9.807), or is a decimal mark lost?"
                  + " For N name the column \"load [N]\", in the file or with --column"),
          Map.entry(100.0, "about 100 times as steep; is a decimal mark lost?"),
          Map.entry(
              1 / 100.0,
              "about 100 times as flat; is a percentage, or a decimal mark, taken for a number?"),
          Map.entry(
              256.0,
              "about 256 times as steep; do 24-bit codes fill the upper bytes of 32 bits?"
                  + " Divide them by 256"),
          Map.entry(1 / 256.0, "about 256 times as flat; is the last byte of the codes lost?"),
          Map.entry(
              65536.0,
              "about 65536 times as steep; do 16-bit codes fill the upper half of 32 bits?"),
          Map.entry(1 / 65536.0, "about 65536 times as flat; are the last two bytes lost?"));

  /** The factor by which a value is wrong, seen against what it should be. */
  static Optional<Double> ofValue(double value, double shouldBe) {
    ToDoubleFunction<Double> off = factor -> Math.abs(value / shouldBe / factor - 1);
    return OF_ONE_VALUE.stream()
        .filter(factor -> off.applyAsDouble(factor) <= NEAR)
        .min(Comparator.comparingDouble(off));
  }

  /** A factor in words: {@code 10 times too large}. */
  static String words(double factor) {
    if (factor < 0) {
      return "has the wrong sign";
    }
    return factor > 1
        ? String.format(Locale.ROOT, "is %.0f times too large", factor)
        : String.format(Locale.ROOT, "is %.0f times too small", 1 / factor);
  }

  /** Likely causes of a slope that is wrong by a factor above 0. */
  static Optional<String> ofRun(double ratio) {
    ToDoubleFunction<Double> off = factor -> Math.abs(Math.log(ratio / factor));
    return OF_RUN.keySet().stream()
        .filter(factor -> off.applyAsDouble(factor) <= Math.log1p(RUN_NEAR))
        .min(Comparator.comparingDouble(off))
        .map(OF_RUN::get);
  }
}
