package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.Role;
import lotproof.study.SideTest;
import lotproof.study.UnitKind;

/**
 * What stands behind and beside a figure: the median kit, how sure one is of other figures, what
 * costs how much, and which unit carries it. All grams are in the claim's form: plus or minus so
 * much, or the constant part of "share of reading + constant".
 *
 * @param typicalGrams half of the tested kits stay within this; no promise for any kit
 * @param confidenceCurve how sure it is that the asked content lies within a figure; ascending
 * @param contentCurve which figure holds for which content, at the asked confidence; ascending
 * @param grid the limit for other contents and confidences, by content and then confidence
 * @param leftOut figures with one unit left out, the most influential first
 * @param sum what adds up to the printable figure, in order
 */
public record FigureDetail(
    double typicalGrams,
    List<ConfidencePoint> confidenceCurve,
    List<ContentPoint> contentCurve,
    List<GridPoint> grid,
    List<BudgetLine> budget,
    List<LeftOut> leftOut,
    List<Addend> sum) {
  public FigureDetail {
    confidenceCurve = List.copyOf(confidenceCurve);
    contentCurve = List.copyOf(contentCurve);
    grid = List.copyOf(grid);
    budget = List.copyOf(budget);
    leftOut = List.copyOf(leftOut);
    sum = List.copyOf(sum);
  }

  /**
   * One addend of the printable figure.
   *
   * @param source the guard band that it is; absent for what is no guard band
   */
  public record Addend(FigureChange.Cause cause, Optional<GuardBands.Kind> source, double grams) {}

  /**
   * How sure it is that the asked content lies within a figure.
   *
   * @param grams the figure, guard bands included
   * @param byModel confidence by the model of normal components, in 0..1
   * @param byTestedKits confidence by the tested kits alone, in 0..1; 0 where they say nothing
   */
  public record ConfidencePoint(double grams, double byModel, double byTestedKits) {}

  /**
   * Which figure holds for a content, at the asked confidence.
   *
   * @param byModelGrams by the model, guard bands included
   * @param byTestedKitsGrams by the tested kits alone; absent where they are too few for this
   *     content
   */
  public record ContentPoint(
      double content, double byModelGrams, OptionalDouble byTestedKitsGrams) {}

  /**
   * The limit for a content and a confidence.
   *
   * @param limitGrams as for the asked ones, with the guard bands of those; absent where the errors
   *     are not normal in shape and the tested kits are too few for this content and confidence
   */
  public record GridPoint(double content, double confidence, OptionalDouble limitGrams) {}

  /**
   * One contributor to the figure at the worst load.
   *
   * @param grams its size: a standard deviation, or the shift or guard band itself
   * @param varianceShareFraction its part of the total variance, in 0..1; 0 for what is added
   * @param costGrams by how much the bound at the worst load would shrink without it alone
   */
  public record BudgetLine(
      Contributor contributor, double grams, double varianceShareFraction, double costGrams) {}

  /** What contributes to a figure. */
  public sealed interface Contributor {
    /** Differs from kit to kit: a standard deviation of a source, by its name for people. */
    record Spread(Role role, String title, Part part) implements Contributor {}

    /** The mean error of all kits. */
    record Shift() implements Contributor {}

    /** Added in full: a limit of error that nothing averages out. */
    record Guard(GuardBands.Kind kind) implements Contributor {}

    /** Added in full: an effect that a supplementary test measured. */
    record Side(SideTest.Effect effect) implements Contributor {}

    /** Which part of a spread. */
    enum Part {
      WHOLE,
      /** Proportional to the load: sensitivity of cells, gain of boards. */
      PROPORTIONAL,
      /** The shape of the curve. */
      SHAPE
    }
  }

  /**
   * The figure with one unit left out.
   *
   * @param boundGrams smallest supported figure without it, before rounding
   * @param changeGrams that minus the bound with it
   * @param modelGrams bound by the model without it, guard bands included
   * @param testedGrams largest tested error without it, guard bands included
   */
  public record LeftOut(
      UnitKind kind,
      String serial,
      double boundGrams,
      double changeGrams,
      double modelGrams,
      double testedGrams) {}
}
