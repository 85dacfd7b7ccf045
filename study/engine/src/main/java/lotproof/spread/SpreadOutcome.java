package lotproof.spread;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.model.FactorPlan;
import lotproof.model.Role;
import lotproof.statistics.Interval;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.components.ComponentsFit.FitRecord;
import lotproof.statistics.components.FixedEffectIntervals;
import lotproof.study.DataIssue;

/** The spread of one characteristic, or the reason why it cannot be estimated. */
public sealed interface SpreadOutcome {
  /**
   * The spread could be estimated.
   *
   * @param components sources of variation, coarsest first, residual last
   * @param influences what else moves the values and was taken out; the mean and the limits are at
   *     its average over the study
   * @param withinTheseLots the same with the lots left out of the model, when lots are few; it
   *     speaks of these lots only
   * @param capability indices against the specification limits, when the study has some
   * @param shape closeness to a normal distribution, when there are enough kits and values are not
   *     coarse
   * @param caveats cases in which the stated confidence was measured to be less
   * @param notes why factors are not in the model
   * @param unused declared influences that were not taken out
   */
  record Estimated(
      double mean,
      List<Component> components,
      List<InfluenceEffect> influences,
      ToleranceLimits limits,
      Optional<ToleranceLimits> withinTheseLots,
      Optional<CapabilityIndices> capability,
      Optional<Shape> shape,
      Optional<BenchShare> bench,
      List<Caveat> caveats,
      FitRecord fit,
      List<FactorPlan.Note> notes,
      List<UnusedInfluence> unused)
      implements SpreadOutcome {
    public Estimated {
      components = List.copyOf(components);
      influences = List.copyOf(influences);
      caveats = List.copyOf(caveats);
      notes = List.copyOf(notes);
      unused = List.copyOf(unused);
    }
  }

  /**
   * The spread cannot be estimated.
   *
   * @param reason why no model can be fitted, in a sentence; empty where no run has a value
   * @param farReadings readings so far from all others that a fit would see nothing else
   */
  record NotEstimable(String reason, List<DataIssue> farReadings) implements SpreadOutcome {
    public NotEstimable {
      farReadings = List.copyOf(farReadings);
    }
  }

  /**
   * One source of variation, in the characteristic's unit.
   *
   * @param title name shown to people
   * @param levels how many units, lots or values it rests on
   * @param interval profile-likelihood interval of the standard deviation; absent where it was not
   *     asked for
   * @param unconstrainedVariance the variance that the data alone would give; below zero when the
   *     data show less variation than the finer sources explain
   * @param shareFraction its part of the total variance, in 0..1
   * @param atBoundary the estimate is zero because it cannot be negative: not detectable, not
   *     absent
   */
  record Component(
      Role role,
      String title,
      int levels,
      double standardDeviation,
      Optional<Interval> interval,
      double variance,
      double unconstrainedVariance,
      double shareFraction,
      boolean atBoundary) {}

  /**
   * How a known influence moves the values, estimated together with the components.
   *
   * @param per for what the change is: one unit of the covariate, or a block against the first one
   * @param estimate the change, in the characteristic's unit
   * @param degreesOfFreedom Satterthwaite's
   * @param toldFromZero whether the interval leaves zero out
   * @param widening the standard error over that of the model alone, 1 or more: residuals that
   *     contradict the model widen it
   * @param doubt what they have against it
   */
  record InfluenceEffect(
      String influence,
      String per,
      double estimate,
      double standardError,
      double degreesOfFreedom,
      Interval interval,
      boolean toldFromZero,
      double widening,
      FixedEffectIntervals.Doubt doubt) {}

  /**
   * A declared influence that was the same in all runs, or is not known for some.
   *
   * @param notRecorded runs for which it is not known; 0 where it was the same in all
   */
  record UnusedInfluence(String name, int notRecorded, int runs) {}

  /**
   * Limits that a future kit keeps, by the model of normal components.
   *
   * @param content fraction of future kits meant, in 0..1
   * @param onlyAbove the content lies above this value (one-sided)
   * @param onlyBelow the content lies below this value (one-sided)
   * @param lower the content lies between this and {@code upper}, which are centred on the mean but
   *     for coarse values
   * @param aboutZero the content lies within plus or minus this value of zero
   * @param meanStandardError of the fitted mean, by REML
   * @param totalStandardDeviation estimated standard deviation of a future kit
   * @param totalUpperLimit upper confidence limit of that standard deviation
   * @param exact whether kits are independent, so that the exact factors of the normal distribution
   *     stand in all but {@code aboutZero}; else modified large-sample limits on the REML fit
   */
  record ToleranceLimits(
      double content,
      double confidence,
      double onlyAbove,
      double onlyBelow,
      double lower,
      double upper,
      double aboutZero,
      double meanStandardError,
      double totalStandardDeviation,
      double totalUpperLimit,
      boolean exact) {
    /** The wider of these, half a step added, and one step beyond the tested values. */
    ToleranceLimits widened(double step, double smallest, double largest) {
      return new ToleranceLimits(
          content,
          confidence,
          Math.min(onlyAbove - step / 2, smallest - step),
          Math.max(onlyBelow + step / 2, largest + step),
          Math.min(lower - step / 2, smallest - step),
          Math.max(upper + step / 2, largest + step),
          Math.max(aboutZero + step / 2, Math.max(Math.abs(smallest), Math.abs(largest)) + step),
          meanStandardError,
          totalStandardDeviation,
          totalUpperLimit,
          exact);
    }
  }

  /**
   * How far the values of kits that share no unit look as they would with normal effects. It warns;
   * it never switches a method, because choosing the method by the data makes figures too small
   * (docs/method.md).
   *
   * @param andersonDarling A squared
   * @param pValue probability of a value as large under normality, lots as estimated
   * @param shapiroWilk W; absent where kits share lots, for which its table does not hold
   * @param shapiroWilkPValue probability of a value as small under normality
   * @param skewness G1, 0 for a symmetric distribution
   * @param excessKurtosis G2, 0 for a normal distribution
   */
  record Shape(
      int kits,
      double andersonDarling,
      double pValue,
      OptionalDouble shapiroWilk,
      OptionalDouble shapiroWilkPValue,
      double skewness,
      double excessKurtosis) {
    private static final double WARNING_LEVEL = 0.05;

    boolean looksNormal() {
      return pValue >= WARNING_LEVEL;
    }
  }

  /**
   * How much of what is seen is the bench, and how many kinds of kit it tells apart.
   *
   * @param standardDeviation of measuring one kit, in the characteristic's unit
   * @param betweenBlocks the part between operators, days or sessions, kit by kit included, where
   *     every kit was measured equally often in every stretch of the one block; absent where the
   *     share comes from repeats of the same kit
   * @param shareOfTotal measuring over the total, by standard deviations, in 0..1
   * @param shareOfTolerance 6 standard deviations over the width between the limits; absent without
   *     two limits
   * @param distinctCategories 1.41 x kits over measuring, by standard deviations; not rounded
   */
  record BenchShare(
      int degreesOfFreedom,
      double standardDeviation,
      Interval interval,
      OptionalDouble betweenBlocks,
      double shareOfTotal,
      OptionalDouble shareOfTolerance,
      double distinctCategories) {}

  /**
   * A case in which limits or intervals were measured to hold less often than they say
   * (docs/guarantees.md).
   */
  enum Caveat {
    /** Every run has the one reference cell or the one reference board. */
    REFERENCE_UNITS,
    /** The values of independent kits do not look normal. */
    NOT_NORMAL,
    /**
     * Values come in steps of more than a quarter of the standard deviation: the limits are widened
     * by half a step and reach a step beyond the tested kits, and the shape cannot be judged.
     */
    COARSE
  }
}
