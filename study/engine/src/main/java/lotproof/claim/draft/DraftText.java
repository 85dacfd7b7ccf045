package lotproof.claim.draft;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Finds the parts of a claim in a draft sentence in English, by patterns: figure, calibration,
 * loads, temperatures, content and confidence. What it does not recognise counts as not stated.
 */
final class DraftText {
  private static final String NUMBER = "([0-9]+(?:\\.[0-9]+)?)";
  private static final String SIGNED = "(-?[0-9]+(?:\\.[0-9]+)?)";
  private static final String TO = "\\s*(?:to|-|and|\\.\\.\\.?)\\s*";

  private static final Pattern OF_READING =
      Pattern.compile(
          "\\(?\\s*"
              + NUMBER
              + "\\s*%\\s*of\\s*(?:the\\s*)?reading\\s*\\+\\s*"
              + NUMBER
              + "\\s*g\\b");
  private static final Pattern MASS = Pattern.compile("(±\\s*)?" + NUMBER + "\\s*(mg|g|kg)\\b");
  private static final Pattern PERCENT =
      Pattern.compile(
          NUMBER
              + "\\s*%\\s*(?:of\\s*)?(?:the\\s*)?(?:rated\\s*)?(?:capacity|full["
              + " -]scale|f\\.?s\\b|range)");
  private static final Pattern BARE_PERCENT = Pattern.compile("±\\s*" + NUMBER + "\\s*%");
  private static final Pattern LOAD_RANGE =
      Pattern.compile(
          NUMBER + "\\s*(?:kg)?" + TO + NUMBER + "\\s*kg\\b(?!\\s*(?:calibration|mass|weight))");
  private static final Pattern LOAD_UP_TO =
      Pattern.compile("(?:up to|to|below|maximum|max\\.?)\\s*" + NUMBER + "\\s*kg\\b");
  private static final Pattern LOADS_AT =
      Pattern.compile("loads?\\s+(?:of|at)\\s+((?:[0-9.]+[ ,and]*)+)kg\\b");
  private static final Pattern TEMPERATURES =
      Pattern.compile(SIGNED + "\\s*(?:°\\s*c?)?" + TO + SIGNED + "\\s*°\\s*c\\b");
  private static final Pattern TEMPERATURE = Pattern.compile(SIGNED + "\\s*°\\s*c\\b");
  private static final Pattern CONTENT =
      Pattern.compile(
          NUMBER
              + "\\s*%\\s*of\\s*(?:all\\s*|the\\s*|our\\s*|such\\s*)*(?:kit|scale|unit|cell|board|product|device|buyer)");
  private static final Pattern CONFIDENCE =
      Pattern.compile(
          NUMBER
              + "\\s*%\\s*confidence|confidence\\s*(?:level\\s*)?(?:of\\s*|:\\s*)?"
              + NUMBER
              + "\\s*%");

  private final String text;

  DraftText(String draft) {
    this.text =
        draft
            .toLowerCase(Locale.ROOT)
            .replace('\u00a0', ' ')
            .replace('\u202f', ' ')
            .replace('\u2212', '-')
            .replace('\u2013', '-')
            .replace('\u2014', '-')
            .replaceAll("\\+\\s*/\\s*-|\\+-|plus or minus", "±")
            .replaceAll("(?<=[0-9]),(?=[0-9]{3}(?![0-9]))", "")
            .replaceAll("(?<=[0-9]),(?=[0-9])", ".");
  }

  boolean says(String pattern) {
    return Pattern.compile(pattern).matcher(text).find();
  }

  /** Share of the reading as a fraction, and constant in grams. */
  Optional<double[]> shareOfReading() {
    Matcher matcher = OF_READING.matcher(text);
    return matcher.find()
        ? Optional.of(new double[] {number(matcher, 1) / 100, number(matcher, 2)})
        : Optional.empty();
  }

  /**
   * The figure in grams: the first mass with plus-minus, else the first in grams, else a share of
   * the capacity.
   */
  OptionalDouble figureGrams(double capacityKilograms) {
    OptionalDouble first = OptionalDouble.empty();
    Matcher matcher = MASS.matcher(text);
    while (matcher.find()) {
      String unit = matcher.group(3);
      double grams =
          number(matcher, 2) * (unit.equals("kg") ? 1000 : unit.equals("mg") ? 0.001 : 1);
      if (matcher.group(1) != null) {
        return OptionalDouble.of(grams);
      }
      if (first.isEmpty() && !unit.equals("kg")) {
        first = OptionalDouble.of(grams);
      }
    }
    if (first.isPresent()) {
      return first;
    }
    for (Pattern share : List.of(PERCENT, BARE_PERCENT)) {
      Matcher percent = share.matcher(text);
      if (percent.find()) {
        return OptionalDouble.of(number(percent, 1) / 100 * capacityKilograms * 1000);
      }
    }
    return OptionalDouble.empty();
  }

  /** Smallest and largest load; the smallest is 0 where only an upper end is said. */
  Optional<double[]> loadsKilograms() {
    Matcher range = LOAD_RANGE.matcher(text);
    if (range.find()) {
      return Optional.of(new double[] {number(range, 1), number(range, 2)});
    }
    Matcher list = LOADS_AT.matcher(text);
    if (list.find()) {
      List<Double> loads = numbers(list.group(1));
      return Optional.of(
          new double[] {
            loads.stream().min(Double::compare).orElse(0.0),
            loads.stream().max(Double::compare).orElse(0.0)
          });
    }
    Matcher upTo = LOAD_UP_TO.matcher(text);
    return upTo.find() ? Optional.of(new double[] {0, number(upTo, 1)}) : Optional.empty();
  }

  private static List<Double> numbers(String list) {
    List<Double> numbers = new ArrayList<>();
    Matcher each = Pattern.compile(NUMBER).matcher(list);
    while (each.find()) {
      numbers.add(number(each, 1));
    }
    return numbers;
  }

  /** Lowest and highest temperature. */
  Optional<double[]> celsius() {
    Matcher range = TEMPERATURES.matcher(text);
    if (range.find()) {
      return Optional.of(new double[] {number(range, 1), number(range, 2)});
    }
    Matcher one = TEMPERATURE.matcher(text);
    return one.find()
        ? Optional.of(new double[] {number(one, 1), number(one, 1)})
        : Optional.empty();
  }

  OptionalDouble content() {
    return fraction(CONTENT);
  }

  OptionalDouble confidence() {
    return fraction(CONFIDENCE);
  }

  private OptionalDouble fraction(Pattern pattern) {
    Matcher matcher = pattern.matcher(text);
    if (!matcher.find()) {
      return OptionalDouble.empty();
    }
    int group = matcher.group(1) != null ? 1 : 2;
    return OptionalDouble.of(number(matcher, group) / 100);
  }

  private static double number(Matcher matcher, int group) {
    return Double.parseDouble(matcher.group(group));
  }
}
