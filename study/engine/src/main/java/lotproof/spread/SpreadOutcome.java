package lotproof.spread;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.components.ComponentsFit.FitRecord;

/** The spread of one characteristic, or the reason why it cannot be estimated. */
public sealed interface SpreadOutcome {

  /**
   * The spread could be estimated.
   *
   * @param mean estimated mean of all kits
   * @param components sources of variation, coarsest first, residual last
   * @param influences what else moves the values and was taken out; the mean and the limits are at
   *     its average over the study
   * @param limits limits for a future kit
   * @param withinTheseLots the same with the lots left out of the model, when lots are few; it
   *     speaks of these lots only
   * @param capability indices against the specification limits, when the study has some
   * @param shape closeness to a normal distribution, when there are enough kits
   * @param bench what repeats say of the bench, when there are some
   * @param caveats cases in which the stated confidence was measured to be less
   * @param fit how the fit went
   * @param notes what the reader must know about the model
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
      List<String> notes)
      implements SpreadOutcome {
    public Estimated {
      components = List.copyOf(components);
      influences = List.copyOf(influences);
      caveats = List.copyOf(caveats);
      notes = List.copyOf(notes);
    }
  }

  /**
   * The spread cannot be estimated.
   *
   * @param reason why, in a sentence for the bench
   */
  record NotEstimable(String reason) implements SpreadOutcome {}

  /**
   * How far the values of kits that share no unit look like draws from a normal distribution. It
   * warns; it never switches a method, because choosing the method by the data makes figures too
   * small (docs/method.md).
   *
   * @param kits how many such kits
   * @param andersonDarling A squared
   * @param pValue probability of a value as large under normality
   * @param shapiroWilk W
   * @param shapiroWilkPValue probability of a value as small under normality
   * @param skewness G1, 0 for a symmetric distribution
   * @param excessKurtosis G2, 0 for a normal distribution
   * @param warning a sentence for the reader; empty when nothing is odd
   */
  record Shape(
      int kits,
      double andersonDarling,
      double pValue,
      OptionalDouble shapiroWilk,
      OptionalDouble shapiroWilkPValue,
      double skewness,
      double excessKurtosis,
      String warning) {}
}
