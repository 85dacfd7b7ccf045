package lotproof.plan.rehearse;

import java.util.List;
import java.util.Optional;

/**
 * How a planned study would have ended, many times over.
 *
 * @param withoutFigure how many gave no figure at all
 * @param trueFigureGrams the figure that holds for exactly the asked content of kits, without
 *     masses and rounding; where the claim is about single lots, on average
 * @param safest quantiles of the safest figure, masses and rounding included
 * @param holdsFraction share of rehearsals whose safest figure holds for the asked content or more
 * @param wanted how the wanted figure came off, if one was named
 */
public record RehearsalResult(
    int times,
    int withoutFigure,
    double trueFigureGrams,
    List<QuantileGrams> safest,
    double holdsFraction,
    Optional<Wanted> wanted) {
  public RehearsalResult {
    safest = List.copyOf(safest);
  }

  /** One quantile of the safest figure. */
  public record QuantileGrams(double fraction, double grams) {}

  /**
   * How the wanted figure came off.
   *
   * @param trueContent share of kits that it really holds for, if the truth is as assumed
   * @param supportedFraction share of rehearsals that supported it
   * @param standardError of that share, from the number of rehearsals
   * @param wronglyFraction share of rehearsals that supported it although it holds for less than
   *     the asked content
   */
  public record Wanted(
      double grams,
      double trueContent,
      double supportedFraction,
      double standardError,
      double wronglyFraction) {}

  /** The median of the safest figure. */
  public double medianGrams() {
    return safest.stream()
        .filter(quantile -> quantile.fraction() == 0.5)
        .mapToDouble(QuantileGrams::grams)
        .findFirst()
        .orElse(Double.NaN);
  }
}
