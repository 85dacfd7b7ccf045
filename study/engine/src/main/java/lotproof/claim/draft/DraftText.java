package lotproof.claim.draft;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/**
 * Finds the parts of a claim in a draft sentence in English, by patterns: figure, calibration,
 * loads, temperatures, content and confidence. What it does not recognise counts as not stated.
 */
final class DraftText {
  private static final String NUMBER = "([0-9]+(?:\\.[0-9]+)?)";
  private static final String SIGNED = "(-?[0-9]+(?:\\.[0-9]+)?)";
  private static final String TO = "\\s*(?:to|-|and|\\.\\.\\.?)\\s*";
  private static final String OF_READING =
      "\\(?\\s*" + NUMBER + "\\s*%\\s*of\\s*(?:the\\s*)?reading\\s*\\+\\s*" + NUMBER + "\\s*g\\b";
  private static final String MASS = "(±\\s*)?" + NUMBER + "\\s*(mg|g|kg)\\b";
  private static final String PERCENT =
      NUMBER
          + "\\s*%\\s*(?:of\\s*)?(?:the\\s*)?(?:rated\\s*)?"
          + "(?:capacity|full[ -]scale|f\\.?s\\b|range)";
  private static final String BARE_PERCENT = "±\\s*" + NUMBER + "\\s*%";
  private static final String LOAD_RANGE =
      NUMBER + "\\s*(?:kg)?" + TO + NUMBER + "\\s*kg\\b(?!\\s*(?:calibration|mass|weight))";
  private static final String LOAD_UP_TO =
      "(?:up to|to|below|maximum|max\\.?)\\s*" + NUMBER + "\\s*kg\\b";
  private static final String LOADS_AT = "loads?\\s+(?:of|at)\\s+((?:[0-9.]+[ ,and]*)+)kg\\b";
  private static final String TEMPERATURES =
      SIGNED + "\\s*(?:°\\s*c?)?" + TO + SIGNED + "\\s*°\\s*c\\b";
  private static final String TEMPERATURE = SIGNED + "\\s*°\\s*c\\b";
  private static final String CONTENT =
      NUMBER
          + "\\s*%\\s*of\\s*(?:all\\s*|the\\s*|our\\s*|such\\s*)*"
          + "(?:kit|scale|unit|cell|board|product|device|buyer)";
  private static final String CONFIDENCE =
      NUMBER
          + "\\s*%\\s*confidence|confidence\\s*(?:level\\s*)?(?:of\\s*|:\\s*)?"
          + NUMBER
          + "\\s*%";
  private final String text;

  DraftText(String draft) {
    this.text =
        draft
            .toLowerCase(Locale.ROOT)
            .replaceAll("[\u00a0\u202f]", " ")
            .replaceAll("[\u2212\u2013\u2014]", "-")
            .replaceAll("\\+\\s*/\\s*-|\\+-|plus or minus", "±")
            .replaceAll("(?<=[0-9]),(?=[0-9]{3}(?![0-9]))", "")
            .replaceAll("(?<=[0-9]),(?=[0-9])", ".");
  }

  boolean says(String pattern) {
    return Pattern.compile(pattern).matcher(text).find();
  }

  /** What a pattern finds first. */
  private Optional<MatchResult> find(String pattern) {
    return Pattern.compile(pattern).matcher(text).results().findFirst();
  }

  private static double number(MatchResult match, int group) {
    return Double.parseDouble(match.group(group));
  }

  /** The two numbers of the first match. */
  private Optional<double[]> pair(String pattern) {
    return find(pattern).map(match -> new double[] {number(match, 1), number(match, 2)});
  }

  /** Share of the reading as a fraction, and constant in grams. */
  Optional<double[]> shareOfReading() {
    return pair(OF_READING).map(said -> new double[] {said[0] / 100, said[1]});
  }

  /**
   * The figure in grams: the first mass with plus-minus, else the first in grams, else a share of
   * the capacity.
   */
  OptionalDouble figureGrams(double capacityKilograms) {
    List<MatchResult> masses = Pattern.compile(MASS).matcher(text).results().toList();
    Optional<MatchResult> figure =
        masses.stream()
            .filter(mass -> mass.group(1) != null)
            .findFirst()
            .or(() -> masses.stream().filter(mass -> !mass.group(3).equals("kg")).findFirst());
    return figure
        .map(
            mass ->
                number(mass, 2)
                    * switch (mass.group(3)) {
                      case "kg" -> 1000;
                      case "mg" -> 0.001;
                      default -> 1;
                    })
        .or(
            () ->
                find(PERCENT)
                    .or(() -> find(BARE_PERCENT))
                    .map(percent -> number(percent, 1) / 100 * capacityKilograms * 1000))
        .map(OptionalDouble::of)
        .orElse(OptionalDouble.empty());
  }

  /** Smallest and largest load; the smallest is 0 where only an upper end is said. */
  Optional<double[]> loadsKilograms() {
    return pair(LOAD_RANGE)
        .or(
            () ->
                find(LOADS_AT)
                    .map(
                        list -> {
                          DoubleSummaryStatistics loads =
                              Pattern.compile(NUMBER)
                                  .matcher(list.group(1))
                                  .results()
                                  .mapToDouble(each -> number(each, 1))
                                  .summaryStatistics();
                          return new double[] {loads.getMin(), loads.getMax()};
                        }))
        .or(() -> find(LOAD_UP_TO).map(upTo -> new double[] {0, number(upTo, 1)}));
  }

  /** Lowest and highest temperature. */
  Optional<double[]> celsius() {
    return pair(TEMPERATURES)
        .or(() -> find(TEMPERATURE).map(one -> new double[] {number(one, 1), number(one, 1)}));
  }

  OptionalDouble content() {
    return fraction(CONTENT);
  }

  OptionalDouble confidence() {
    return fraction(CONFIDENCE);
  }

  private OptionalDouble fraction(String pattern) {
    return find(pattern).stream()
        .mapToDouble(match -> number(match, match.group(1) != null ? 1 : 2) / 100)
        .findFirst();
  }
}
