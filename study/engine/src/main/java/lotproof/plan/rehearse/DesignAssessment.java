package lotproof.plan.rehearse;

import java.util.List;
import java.util.Optional;
import lotproof.model.FactorPlan.Note;
import lotproof.model.Role;
import lotproof.plan.design.DesignKind;

/**
 * What one design can support.
 *
 * @param disjointKits tested kits that share no unit
 * @param supportedContent content that those kits support without a model
 * @param support what rehearsals found; absent for a design that makes no kits or cannot tell its
 *     spreads apart
 * @param lotFactor the figure over that of the same design if lots did not differ; absent when no
 *     kind has two lots or more
 * @param notes what kits of this design cannot tell
 */
public record DesignAssessment(
    DesignKind design,
    Effort effort,
    Precision precision,
    int disjointKits,
    double supportedContent,
    Optional<Support> support,
    Optional<Double> lotFactor,
    List<Note> notes) {
  public DesignAssessment {
    notes = List.copyOf(notes);
  }

  /**
   * What a design takes.
   *
   * @param benchHours with warm-ups and the check standard
   */
  public record Effort(int runs, int cells, int boards, int sessions, double benchHours) {}

  /**
   * How precisely a design estimates spreads.
   *
   * @param totalRelativeStandardError expected relative standard error of a kit's total spread
   * @param effectiveDegreesOfFreedom of that total
   * @param overstatementFraction by how much the design overstates the total spread, 0 but for the
   *     reference partner
   * @param perRun 1 / variance of the total spread's estimate per run, disjoint pairs being 1
   */
  public record Precision(
      List<ComponentPrecision> components,
      double totalRelativeStandardError,
      double effectiveDegreesOfFreedom,
      double overstatementFraction,
      double perRun) {
    public Precision {
      components = List.copyOf(components);
    }
  }

  /**
   * Expected precision of one component.
   *
   * @param holds further sources that cannot be told from it
   * @param assumedGrams its assumed standard deviation
   * @param relativeStandardError expected, as a fraction; absent when it is assumed to be zero
   */
  public record ComponentPrecision(
      Role role, List<Role> holds, double assumedGrams, Optional<Double> relativeStandardError) {
    public ComponentPrecision {
      holds = List.copyOf(holds);
    }
  }

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
