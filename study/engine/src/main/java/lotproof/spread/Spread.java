package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.model.FactorPlan;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.CharacteristicSpread.DistributionFreeLimits;
import lotproof.spread.SpreadOutcome.Caveat;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.spread.SpreadOutcome.InfluenceEffect;
import lotproof.spread.SpreadOutcome.Shape;
import lotproof.spread.SpreadOutcome.ToleranceLimits;
import lotproof.spread.SpreadOutcome.UnusedInfluence;
import lotproof.statistics.Interval;
import lotproof.statistics.capability.Capability;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.capability.ProcessLimits;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.FixedEffectIntervals;
import lotproof.statistics.components.FutureUnit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.NormalEffects;
import lotproof.statistics.components.ProfileIntervals;
import lotproof.statistics.shape.Moments;
import lotproof.statistics.shape.ShapiroWilk;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.statistics.tolerance.NormalTolerance;

/**
 * Estimates how far the values of one characteristic spread and why: the crossed mixed model of
 * docs/method.md by REML, intervals for each component, limits for a future kit, the
 * distribution-free counterpart and capability.
 */
public record Spread(SpreadOptions options) {
  private static final double COARSE = 0.25;
  private static final int MOST_FOR_SHAPIRO_WILK = 5000;

  /** The spread of these values; typed as not estimable where it is not. */
  public CharacteristicSpread of(MeasuredValues values) {
    if (values.values().isEmpty()) {
      return new CharacteristicSpread(
          values,
          new SpreadOutcome.NotEstimable("", List.of()),
          Optional.empty(),
          List.of(),
          List.of());
    }
    FactorPlan plan = FactorPlan.of(values);
    TestedKits kits = TestedKits.of(values);
    FitOutcome fitted = plan.fit(values);
    Optional<ComponentsFit> fit =
        fitted instanceof ComponentsFit found ? Optional.of(found) : Optional.empty();
    return new CharacteristicSpread(
        values,
        fit.<SpreadOutcome>map(found -> estimated(values, plan, kits, found))
            .orElseGet(
                () -> new SpreadOutcome.NotEstimable(((NotEstimable) fitted).reason(), List.of())),
        Optional.of(distributionFree(values, kits)),
        LotSummaries.of(values),
        options.intervals() ? DataChecks.of(values, plan, fit) : List.of());
  }

  private SpreadOutcome.Estimated estimated(
      MeasuredValues values, FactorPlan plan, TestedKits kits, ComponentsFit fit) {
    double step = coarseStep(values, fit);
    ToleranceLimits limits = limits(values, plan, fit, step);
    Optional<Shape> shape =
        step > 0 ? Optional.empty() : shape(fit, pick(values, kits.disjoint()), kits.disjoint());
    List<Caveat> caveats = new ArrayList<>();
    if (onReferenceUnits(values, plan)) {
      caveats.add(Caveat.REFERENCE_UNITS);
    }
    if (!shape.map(Shape::looksNormal).orElse(true)) {
      caveats.add(Caveat.NOT_NORMAL);
    }
    if (step > 0) {
      caveats.add(Caveat.COARSE);
    }
    return new SpreadOutcome.Estimated(
        fit.mean(),
        components(values, plan, fit),
        influences(values, fit),
        limits,
        withinTheseLots(values, plan, step),
        capability(plan, fit),
        shape,
        BenchShares.of(
            values, limits.totalStandardDeviation(), options.limits(), options.confidence()),
        caveats,
        fit.record(),
        plan.notes(),
        unused(values));
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
              fit.atBoundary(role.component())));
    }
    return components;
  }

  /** The effects of all influences that the fit of these values has columns for. */
  private List<InfluenceEffect> influences(MeasuredValues values, ComponentsFit fit) {
    List<InfluenceEffect> effects = new ArrayList<>();
    List<FixedEffectIntervals.Estimate> estimates =
        fit.fixedEffects().isEmpty()
            ? List.of()
            : FixedEffectIntervals.of(fit, options.confidence());
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
                !e.interval().contains(0),
                e.widening(),
                e.doubt()));
      }
    }
    return effects;
  }

  private static List<UnusedInfluence> unused(MeasuredValues values) {
    int runs = values.values().size();
    return values.influences().stream()
        .filter(influence -> influence.columns().isEmpty())
        .map(
            influence ->
                new UnusedInfluence(
                    influence.name(),
                    influence instanceof KnownInfluence.NotRecorded not ? not.runs() : 0,
                    runs))
        .toList();
  }

  /** Whether some cell and some board are such that every run has one of them. */
  private static boolean onReferenceUnits(MeasuredValues values, FactorPlan plan) {
    if (!plan.roles().containsAll(List.of(Role.CELL, Role.BOARD))
        || values.levels(Role.CELL) < 3
        || values.levels(Role.BOARD) < 3) {
      return false;
    }
    List<String> cells = values.labelsOf(Role.CELL).orElseThrow();
    List<String> boards = values.labelsOf(Role.BOARD).orElseThrow();
    String cell = mostMet(cells, boards);
    String board = mostMet(boards, cells);
    return IntStream.range(0, cells.size())
        .allMatch(i -> cells.get(i).equals(cell) || boards.get(i).equals(board));
  }

  /** The unit with the most different partners. */
  private static String mostMet(List<String> units, List<String> partners) {
    Map<String, Set<String>> met = new LinkedHashMap<>();
    for (int i = 0; i < units.size(); i++) {
      met.computeIfAbsent(units.get(i), u -> new HashSet<>()).add(partners.get(i));
    }
    return met.keySet().stream()
        .max(Comparator.comparingInt(unit -> met.getOrDefault(unit, Set.of()).size()))
        .orElseThrow();
  }

  private Optional<ToleranceLimits> withinTheseLots(
      MeasuredValues values, FactorPlan plan, double step) {
    if (!plan.hasFewLots(values)) {
      return Optional.empty();
    }
    FactorPlan these = plan.withoutLots();
    return these.fit(values) instanceof ComponentsFit fit
        ? Optional.of(limits(values, these, fit, step))
        : Optional.empty();
  }

  /**
   * The limits for a future kit; of independent kits the exact factors of the normal distribution
   * replace the approximation.
   */
  private ToleranceLimits limits(
      MeasuredValues values, FactorPlan plan, ComponentsFit fit, double step) {
    ToleranceLimits normal = limits(plan, fit);
    DoubleSummaryStatistics tested = Arrays.stream(values.array()).summaryStatistics();
    return step > 0 ? normal.widened(step, tested.getMin(), tested.getMax()) : normal;
  }

  /** The step of values that are coarse against their spread; 0 of others. */
  private static double coarseStep(MeasuredValues values, ComponentsFit fit) {
    double step = Summary.step(values.array());
    return step > COARSE * Math.sqrt(Arrays.stream(fit.variances()).sum()) ? step : 0;
  }

  private ToleranceLimits limits(FactorPlan plan, ComponentsFit fit) {
    double content = options.content();
    double confidence = options.confidence();
    FutureUnitLimits model = FutureUnitLimits.of(fit, Set.of(), content, confidence);
    int n = fit.observations().values().length;
    boolean exact = independent(plan, fit);
    double mean = model.mean();
    double oneSided =
        exact ? NormalTolerance.oneSidedFactor(n, content, confidence) * model.totalSd() : 0;
    double twoSided =
        exact
            ? NormalTolerance.twoSidedFactor(n, content, confidence) * model.totalSd()
            : model.twoSidedHalfWidth();
    return new ToleranceLimits(
        content,
        confidence,
        exact ? mean - oneSided : model.lower(),
        exact ? mean + oneSided : model.upper(),
        mean - twoSided,
        mean + twoSided,
        model.symmetricHalfWidth(),
        // that of the limits works from variances below zero, which the mean does not have
        fit.meanStandardError(),
        // the total of the components as estimated; the limits work from the unconstrained one
        Math.sqrt(Arrays.stream(fit.variances()).sum()),
        model.totalSdUpper(),
        exact);
  }

  /**
   * The indices against the specification limits: of independent kits by the exact formulas of one
   * sample, of all others by what the model knows of a future kit.
   */
  private Optional<CapabilityIndices> capability(FactorPlan plan, ComponentsFit fit) {
    double confidence = options.confidence();
    FutureUnit oneSided = futureKit(fit, confidence);
    int n = fit.observations().values().length;
    return options
        .limits()
        .filter(asked -> oneSided.fittedSd() > 0)
        .map(asked -> new ProcessLimits(asked.lower(), asked.upper()))
        .map(
            asked ->
                independent(plan, fit)
                    ? Capability.of(fit.mean(), oneSided.fittedSd(), n - 1, n, asked, confidence)
                    : Capability.of(
                        oneSided, futureKit(fit, (1 + confidence) / 2), asked, confidence));
  }

  private static FutureUnit futureKit(ComponentsFit fit, double confidence) {
    return new FutureUnit(
        List.of(new FutureUnitLimits.Part(fit, ComponentWeights.ALL)), 0, confidence);
  }

  /** Whether the values are one sample of independent kits. */
  private static boolean independent(FactorPlan plan, ComponentsFit fit) {
    return plan.roles().isEmpty() && fit.fixedEffects().isEmpty();
  }

  private static Optional<Shape> shape(
      ComponentsFit fit, double[] independent, List<Integer> kits) {
    if (independent.length < NormalEffects.FEWEST
        || Arrays.stream(independent).distinct().count() < 3) {
      return Optional.empty();
    }
    NormalEffects test =
        NormalEffects.test(fit, kits.stream().mapToInt(Integer::intValue).toArray());
    Moments moments = Moments.of(independent);
    Optional<ShapiroWilk> second =
        test.drawn() || independent.length > MOST_FOR_SHAPIRO_WILK
            ? Optional.empty()
            : Optional.of(ShapiroWilk.test(independent));
    return Optional.of(
        new Shape(
            independent.length,
            test.andersonDarling(),
            test.pValue(),
            second.stream().mapToDouble(ShapiroWilk::statistic).findFirst(),
            second.stream().mapToDouble(ShapiroWilk::pValue).findFirst(),
            moments.adjustedSkewness(),
            moments.excessKurtosis()));
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

  private static double[] pick(MeasuredValues values, List<Integer> indices) {
    return indices.stream().mapToDouble(values.values()::get).toArray();
  }
}
