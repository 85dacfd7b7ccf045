package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.statistics.Interval;
import lotproof.statistics.capability.Capability;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.capability.ProcessLimits;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.ProfileIntervals;
import lotproof.statistics.shape.AndersonDarling;
import lotproof.statistics.shape.Moments;
import lotproof.statistics.shape.ShapiroWilk;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.statistics.tolerance.NormalTolerance;

/**
 * Estimates how far the values of one characteristic spread and why: the crossed mixed model of
 * docs/method.md by REML, intervals for each component, limits for a future kit, the
 * distribution-free counterpart and capability.
 */
public final class Spread {
  private static final int KITS_FOR_SHAPE = 8;
  private static final int MOST_FOR_SHAPIRO_WILK = 5000;
  private static final double SHAPE_WARNING_LEVEL = 0.05;

  private final SpreadOptions options;

  public Spread(SpreadOptions options) {
    this.options = options;
  }

  /** The spread of these values; typed as not estimable where it is not. */
  public CharacteristicSpread of(MeasuredValues values) {
    if (values.values().isEmpty()) {
      return new CharacteristicSpread(
          values,
          new SpreadOutcome.NotEstimable("No run shows this characteristic."),
          Optional.empty(),
          List.of(),
          List.of());
    }
    FactorPlan plan = FactorPlan.of(values);
    TestedKits kits = TestedKits.of(values);
    FitOutcome fitted = plan.fit(values);
    SpreadOutcome outcome =
        fitted instanceof ComponentsFit fit
            ? estimated(values, plan, kits, fit)
            : new SpreadOutcome.NotEstimable(((NotEstimable) fitted).reason());
    Optional<ComponentsFit> estimated =
        fitted instanceof ComponentsFit fit ? Optional.of(fit) : Optional.empty();
    return new CharacteristicSpread(
        values,
        outcome,
        Optional.of(distributionFree(values, kits)),
        LotSummaries.of(values),
        options.intervals() ? DataChecks.of(values, plan, estimated) : List.of());
  }

  private SpreadOutcome estimated(
      MeasuredValues values, FactorPlan plan, TestedKits kits, ComponentsFit fit) {
    ToleranceLimits limits = limits(plan, fit);
    List<String> notes =
        new ArrayList<>(plan.notes().stream().map(FactorPlan.Note::sentence).toList());
    notes.addAll(InfluenceEffect.notes(values));
    Optional<SpreadOutcome.Shape> shape = shape(values, kits);
    boolean looksNormal = shape.isEmpty() || shape.get().warning().isEmpty();
    return new SpreadOutcome.Estimated(
        fit.mean(),
        components(values, plan, fit),
        InfluenceEffect.of(values, fit, options.confidence()),
        limits,
        withinTheseLots(values, plan),
        capability(fit.mean(), values.values().size(), limits),
        shape,
        KitRepeats.benchShare(
            values, limits.totalStandardDeviation(), options.limits(), options.confidence()),
        Caveat.of(values, plan, looksNormal),
        fit.record(),
        notes);
  }

  private List<Component> components(MeasuredValues values, FactorPlan plan, ComponentsFit fit) {
    List<Interval> intervals =
        options.intervals() ? ProfileIntervals.adjusted(fit, options.confidence()) : List.of();
    double[] variances = fit.variances();
    double[] unconstrained = fit.unconstrainedVariances();
    double total = Arrays.stream(variances).sum();
    List<Role> roles = new ArrayList<>(plan.roles());
    roles.add(Role.RESIDUAL);
    List<Component> components = new ArrayList<>();
    for (int k = 0; k < roles.size(); k++) {
      Role role = roles.get(k);
      components.add(
          new Component(
              role,
              role == Role.RESIDUAL ? plan.residualTitle() : role.title(),
              FactorPlan.levels(values, role),
              Math.sqrt(variances[k]),
              options.intervals() ? Optional.of(intervals.get(k)) : Optional.empty(),
              variances[k],
              unconstrained[k],
              total > 0 ? variances[k] / total : 0,
              fit.atBoundary(role.key())));
    }
    return components;
  }

  private Optional<ToleranceLimits> withinTheseLots(MeasuredValues values, FactorPlan plan) {
    if (!plan.hasFewLots(values)) {
      return Optional.empty();
    }
    FactorPlan these = plan.withoutLots();
    return these.fit(values) instanceof ComponentsFit fit
        ? Optional.of(limits(these, fit))
        : Optional.empty();
  }

  /** The limits for a future kit by the fit of a plan's model. */
  public ToleranceLimits limits(FactorPlan plan, ComponentsFit fit) {
    FutureUnitLimits model =
        FutureUnitLimits.of(fit, Set.of(), options.content(), options.confidence());
    if (plan.roles().isEmpty() && fit.fixedEffects().isEmpty()) {
      return exactLimits(fit, model);
    }
    double mean = model.mean();
    return toleranceLimits(
        fit,
        model,
        new double[] {
          model.lower(),
          model.upper(),
          mean - model.twoSidedHalfWidth(),
          mean + model.twoSidedHalfWidth()
        },
        "Modified large-sample limits on pseudo mean squares of the REML fit.");
  }

  /** Independent kits: the exact factors of the normal distribution replace the approximation. */
  private ToleranceLimits exactLimits(ComponentsFit fit, FutureUnitLimits model) {
    int n = fit.observations().values().length;
    double oneSided = NormalTolerance.oneSidedFactor(n, options.content(), options.confidence());
    double twoSided = NormalTolerance.twoSidedFactor(n, options.content(), options.confidence());
    double sd = model.totalSd();
    double mean = model.mean();
    return toleranceLimits(
        fit,
        model,
        new double[] {
          mean - oneSided * sd, mean + oneSided * sd, mean - twoSided * sd, mean + twoSided * sd
        },
        "Exact normal factors for independent kits; about zero by modified large-sample limits.");
  }

  private ToleranceLimits toleranceLimits(
      ComponentsFit fit, FutureUnitLimits model, double[] oneSidedThenTwoSided, String method) {
    // the total of the components as estimated; the limits work from the unconstrained one
    double total = Math.sqrt(Arrays.stream(fit.variances()).sum());
    return new ToleranceLimits(
        options.content(),
        options.confidence(),
        oneSidedThenTwoSided[0],
        oneSidedThenTwoSided[1],
        oneSidedThenTwoSided[2],
        oneSidedThenTwoSided[3],
        model.symmetricHalfWidth(),
        model.meanStandardError(),
        total,
        model.totalSdUpper(),
        model.effectiveDegreesOfFreedom(),
        method);
  }

  private Optional<CapabilityIndices> capability(double mean, int count, ToleranceLimits limits) {
    if (options.limits().isEmpty() || !(limits.totalStandardDeviation() > 0)) {
      return Optional.empty();
    }
    ProcessLimits specification =
        new ProcessLimits(
            options.limits().get().lower(), options.limits().get().upper(), OptionalDouble.empty());
    double sd = limits.totalStandardDeviation();
    // a standard error estimated at zero does not make the mean rest on more values than there are
    double valuesBehindMean = Math.min(count, Math.pow(sd / limits.meanStandardError(), 2));
    return Optional.of(
        Capability.of(
            mean,
            sd,
            Math.max(1, limits.effectiveDegreesOfFreedom()),
            valuesBehindMean,
            specification,
            options.confidence()));
  }

  private static Optional<SpreadOutcome.Shape> shape(MeasuredValues values, TestedKits kits) {
    double[] independent = pick(values, kits.disjoint());
    boolean varied = Arrays.stream(independent).distinct().count() > 2;
    if (independent.length < KITS_FOR_SHAPE || !varied) {
      return Optional.empty();
    }
    AndersonDarling test = AndersonDarling.test(independent);
    String warning =
        test.pValue() < SHAPE_WARNING_LEVEL
            ? "The values do not look normal; limits by the model lean on the normal shape, the"
                + " distribution-free ones do not."
            : "";
    Optional<ShapiroWilk> second =
        independent.length <= MOST_FOR_SHAPIRO_WILK
            ? Optional.of(ShapiroWilk.test(independent))
            : Optional.empty();
    Moments moments = Moments.of(independent);
    return Optional.of(
        new SpreadOutcome.Shape(
            independent.length,
            test.statistic(),
            test.pValue(),
            second.map(t -> OptionalDouble.of(t.statistic())).orElse(OptionalDouble.empty()),
            second.map(t -> OptionalDouble.of(t.pValue())).orElse(OptionalDouble.empty()),
            moments.adjustedSkewness(),
            moments.excessKurtosis(),
            warning));
  }

  private DistributionFreeLimits distributionFree(MeasuredValues values, TestedKits kits) {
    double[] tested = pick(values, kits.first());
    int n = kits.disjoint().size();
    double smallest = Arrays.stream(tested).min().orElseThrow();
    double largest = Arrays.stream(tested).max().orElseThrow();
    return new DistributionFreeLimits(
        tested.length,
        n,
        smallest,
        largest,
        Math.max(Math.abs(smallest), Math.abs(largest)),
        options.content(),
        DistributionFree.confidenceOfExtreme(n, options.content()),
        n < 2 ? 0 : DistributionFree.confidenceOfBothExtremes(n, options.content()),
        options.confidence(),
        DistributionFree.contentOfExtreme(n, options.confidence()),
        DistributionFree.sampleSizeForExtreme(options.content(), options.confidence(), 1));
  }

  private static double[] pick(MeasuredValues values, Collection<Integer> indices) {
    return indices.stream().mapToDouble(values.values()::get).toArray();
  }
}
