package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FixedEffectIntervals;

/**
 * How a known influence moves the values, estimated together with the components.
 *
 * @param influence what moves them
 * @param per for what the change is: one unit of the covariate, or a block against the first one
 * @param estimate the change, in the characteristic's unit
 * @param standardError of the estimate
 * @param degreesOfFreedom Satterthwaite's
 * @param interval of the change
 * @param toldFromZero whether the interval leaves zero out
 */
public record InfluenceEffect(
    String influence,
    String per,
    double estimate,
    double standardError,
    double degreesOfFreedom,
    Interval interval,
    boolean toldFromZero) {

  /** The effects of all influences that the fit of these values has columns for. */
  static List<InfluenceEffect> of(MeasuredValues values, ComponentsFit fit, double confidence) {
    if (fit.fixedEffects().isEmpty()) {
      return List.of();
    }
    List<InfluenceEffect> effects = new ArrayList<>();
    List<FixedEffectIntervals.Estimate> estimates = FixedEffectIntervals.of(fit, confidence);
    for (KnownInfluence influence : values.influences()) {
      for (KnownInfluence.Column column : influence.columns()) {
        FixedEffectIntervals.Estimate e = estimates.get(effects.size());
        effects.add(
            new InfluenceEffect(
                influence.name(),
                column.per(),
                e.effect().estimate(),
                e.effect().standardError(),
                e.degreesOfFreedom(),
                e.interval(),
                !e.interval().contains(0)));
      }
    }
    return effects;
  }

  /** Why influences have no effect in the model, in words. */
  static List<String> notes(MeasuredValues values) {
    return values.influences().stream()
        .filter(influence -> influence.columns().isEmpty())
        .map(
            influence ->
                influence instanceof KnownInfluence.NotRecorded missing
                    ? missing.reason()
                    : "The "
                        + influence.name()
                        + " was the same in all runs, so its influence was not estimated.")
        .toList();
  }
}
