package lotproof.plan.rehearse;

import java.util.List;
import java.util.Optional;

/**
 * What one design can support.
 *
 * @param design its key
 * @param words the design in words
 * @param runs runs of the study's units
 * @param cells cells that take part
 * @param boards boards that take part
 * @param sessions bench sessions
 * @param benchHours with warm-ups and the check standard
 * @param components expected precision of each component
 * @param totalRelativeStandardError expected relative standard error of a kit's total spread
 * @param effectiveDegreesOfFreedom of that total
 * @param overstatementFraction by how much the design overstates the total spread, 0 but for the
 *     reference partner
 * @param precisionPerRun 1 / variance of the total spread's estimate per run, disjoint pairs being
 *     1
 * @param disjointKits tested kits that share no unit
 * @param supportedContent content that those kits support without a model
 * @param support what rehearsals found; absent for a design that makes no kits
 * @param lotFactor the figure over that of the same design if lots did not differ; absent when no
 *     kind has two lots or more
 * @param missing what stays unestimable
 */
public record DesignAssessment(
    String design,
    String words,
    int runs,
    int cells,
    int boards,
    int sessions,
    double benchHours,
    List<ComponentPrecision> components,
    double totalRelativeStandardError,
    double effectiveDegreesOfFreedom,
    double overstatementFraction,
    double precisionPerRun,
    int disjointKits,
    double supportedContent,
    Optional<Support> support,
    Optional<Double> lotFactor,
    List<String> missing) {
  public DesignAssessment {
    components = List.copyOf(components);
    missing = List.copyOf(missing);
  }

  /**
   * Expected precision of one component.
   *
   * @param component its name
   * @param assumedGrams its assumed standard deviation
   * @param relativeStandardError expected, as a fraction; absent when it is assumed to be zero
   */
  public record ComponentPrecision(
      String component, double assumedGrams, Optional<Double> relativeStandardError) {}

  /**
   * What rehearsals found.
   *
   * @param medianFigureGrams median of the safest figure, masses and rounding included
   * @param unluckyFigureGrams 95 % of studies end with this figure or a smaller one
   * @param penalty median bound over the true figure
   * @param chance share of studies that support the wanted figure; absent when none was named
   */
  public record Support(
      double medianFigureGrams,
      double unluckyFigureGrams,
      double penalty,
      Optional<Double> chance) {}
}
