package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.Criterion;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.CurveOutcome;
import lotproof.statistics.components.Deletion;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.FutureUnitLimits.Part;
import lotproof.statistics.components.NearbyFit;
import lotproof.statistics.components.NotEstimable;

/**
 * The mixed model of error curves in the claim's form: a fit at each point of the run, the
 * covariances over the points together, and a bound over all of them. Errors are divided by the
 * form's weight at the load, so that every bound is the figure itself.
 */
final class ErrorModel {
  private final List<ModelPart> halves;
  private final List<List<Part>> parts;
  private final double[] shifts;
  private final List<CurveComponents> byHalf;
  private final CurveComponents curves;

  private ErrorModel(
      List<ModelPart> halves,
      List<List<Part>> parts,
      double[] shifts,
      List<CurveComponents> byHalf,
      CurveComponents curves) {
    this.halves = halves;
    this.parts = parts;
    this.shifts = shifts;
    this.byHalf = List.copyOf(byHalf);
    this.curves = curves;
  }

  /** A model, or the reason why there is none. */
  sealed interface Outcome {
    /** There is a model. */
    record Fitted(ErrorModel model) implements Outcome {}

    /** There is none. */
    record NotFitted(String reason) implements Outcome {}
  }

  /** Where a fit starts. */
  interface Start {
    /** What is near the fit of one half at a point. */
    NearbyFit of(int point, int half);
  }

  /**
   * Fits the model.
   *
   * @param halves independent sets of curves whose sum is a kit; one where kits were measured
   * @param shifts known values added at each point
   * @param confidence of the inflation that {@link CurveComponents} keeps
   * @param start fits of nearly the same runs
   */
  static Outcome fit(
      List<ModelPart> halves, double[] shifts, double confidence, Optional<Start> start) {
    List<CurveComponents> curves = new ArrayList<>();
    List<List<Part>> parts = new ArrayList<>();
    for (int p = 0; p < shifts.length; p++) {
      parts.add(new ArrayList<>());
    }
    for (int h = 0; h < halves.size(); h++) {
      ModelPart half = halves.get(h);
      List<String> order = half.plan().finestFirst();
      List<ComponentsFit> fits = new ArrayList<>();
      for (int p = 0; p < shifts.length; p++) {
        Optional<NearbyFit> from =
            start.isPresent() ? Optional.of(start.get().of(p, h)) : Optional.empty();
        MeasuredValues values = half.labelled().withValues(half.judged().at(p));
        FitOutcome fitted =
            fits.isEmpty() ? fit(values, half.plan(), from) : refit(fits.get(p - 1), values, from);
        if (!(fitted instanceof ComponentsFit fit)) {
          return new Outcome.NotFitted(((NotEstimable) fitted).reason());
        }
        fits.add(fit);
        parts.get(p).add(new Part(fit, order, half.weights()));
      }
      CurveOutcome together =
          CurveComponents.ofFits(half.judged().matrix(), fits, order, half.weights(), confidence);
      if (!(together instanceof CurveComponents components)) {
        return new Outcome.NotFitted(((NotEstimable) together).reason());
      }
      curves.add(components);
    }
    CurveComponents all =
        curves.size() == 1 && Arrays.stream(shifts).allMatch(shift -> shift == 0)
            ? curves.get(0)
            : CurveComponents.sum(curves, shifts, CurveComponents.inflation(parts, confidence));
    return new Outcome.Fitted(new ErrorModel(halves, parts, shifts, curves, all));
  }

  static FitOutcome fit(MeasuredValues values, FactorPlan plan, Optional<NearbyFit> from) {
    return from.isPresent()
        ? ComponentsFitter.fitFrom(plan.observations(values), from.get())
        : ComponentsFitter.fit(plan.observations(values), Criterion.REML);
  }

  private static FitOutcome refit(
      ComponentsFit atPointBefore, MeasuredValues values, Optional<NearbyFit> from) {
    return from.isPresent()
        ? ComponentsFitter.refitFrom(atPointBefore, values.array(), from.get())
        : ComponentsFitter.refitNear(atPointBefore, values.array());
  }

  /** The fit of one half at a point. */
  ComponentsFit fit(int point, int half) {
    return parts.get(point).get(half).fit();
  }

  /** Whether kits are put together from halves that were measured apart. */
  boolean isSum() {
    return halves.size() > 1;
  }

  /** Places, weights and signs are those of every half. */
  JudgedCurves judged() {
    return halves.get(0).judged();
  }

  /** Limits of a future kit at one point. */
  FutureUnitLimits limits(int point, double content, double confidence) {
    return FutureUnitLimits.ofSum(parts.get(point), shifts[point], content, confidence);
  }

  /** The bound at one point: about zero, or the upper limit where one side counts. */
  double boundAt(int point, double content, double confidence) {
    return counted(limits(point, content, confidence));
  }

  /** The same with the variances of some roles at a share of what they are. */
  double boundAt(int point, Set<Role> roles, double share, double content, double confidence) {
    List<Part> changed = new ArrayList<>();
    for (int h = 0; h < halves.size(); h++) {
      Part part = parts.get(point).get(h);
      List<Role> own = halves.get(h).roles();
      Set<String> components = new TreeSet<>();
      for (int k = 0; k < own.size(); k++) {
        if (roles.contains(own.get(k))) {
          components.add(part.fit().componentNames().get(k));
        }
      }
      changed.add(scaled(part, components, share));
    }
    return counted(FutureUnitLimits.ofSum(changed, shifts[point], content, confidence));
  }

  /** The same with one source's variance at a share of what it is. */
  double boundAt(int point, Source source, double share, double content, double confidence) {
    List<Part> changed = new ArrayList<>(parts.get(point));
    Part part = changed.get(source.half());
    changed.set(source.half(), scaled(part, Set.of(source.component()), share));
    return counted(FutureUnitLimits.ofSum(changed, shifts[point], content, confidence));
  }

  /** What leaving out curves would do to the fit at a point, to first order. */
  Deletion deletion(int point) {
    return new Deletion(parts.get(point).get(0).fit());
  }

  /** The bound at one point with the variances and the mean moved by so much. */
  double boundAfter(Deletion.Change change, int point, double content, double confidence) {
    Part part = parts.get(point).get(0);
    double[] variances = part.fit().variances();
    ComponentWeights weights = part.weights();
    for (int k = 0; k < variances.length; k++) {
      if (variances[k] > 0) {
        double share = 1 + change.variances()[k] / variances[k];
        weights = weights.scaled(Set.of(part.fit().componentNames().get(k)), share);
      }
    }
    return counted(
        FutureUnitLimits.ofSum(
            List.of(new Part(part.fit(), part.finestFirst(), weights)),
            shifts[point] + change.mean(),
            content,
            confidence));
  }

  /** The same with the mean error taken as zero, its uncertainty kept. */
  double boundWithoutMean(int point, double content, double confidence) {
    double mean = parts.get(point).stream().mapToDouble(part -> part.fit().mean()).sum();
    return counted(FutureUnitLimits.ofSum(parts.get(point), -mean, content, confidence));
  }

  private static Part scaled(Part part, Set<String> components, double share) {
    return new Part(part.fit(), part.finestFirst(), part.weights().scaled(components, share));
  }

  /**
   * One source of error at one point.
   *
   * @param half which half it belongs to
   * @param component its name in the fit
   * @param role what it stands for
   * @param title for people
   * @param variance as it enters what the claim is about, in the claim's form; 0 where it does not
   * @param fitted variance as fitted
   */
  record Source(
      int half, String component, Role role, String title, double variance, double fitted) {}

  /** All sources at a point, coarsest first, half by half. */
  List<Source> sources(int point) {
    List<Source> sources = new ArrayList<>();
    for (int h = 0; h < halves.size(); h++) {
      Part part = parts.get(point).get(h);
      double[] variances = part.fit().variances();
      List<Role> roles = halves.get(h).roles();
      for (int k = 0; k < variances.length; k++) {
        String component = part.fit().componentNames().get(k);
        double has = part.weights().unit().getOrDefault(component, 1.0);
        sources.add(
            new Source(
                h,
                component,
                roles.get(k),
                halves.get(h).title(k),
                has * variances[k],
                variances[k]));
      }
    }
    return sources;
  }

  private double counted(FutureUnitLimits limits) {
    return judged().twoSided() ? limits.symmetricHalfWidth() : Math.max(0, limits.upper());
  }

  /** Index of the point with the widest bound. */
  int worst(double content, double confidence) {
    int worst = 0;
    double widest = -1;
    for (int p = 0; p < parts.size(); p++) {
      double bound = boundAt(p, content, confidence);
      if (bound > widest) {
        widest = bound;
        worst = p;
      }
    }
    return worst;
  }

  /** What a share of kits keeps within over all points, as estimated, without widening. */
  double asEstimatedGrams(double content) {
    return togetherGrams(1, content);
  }

  /** Bound for a future kit over all points together. */
  double curveGrams(double content, double confidence) {
    return togetherGrams(CurveComponents.inflation(parts, confidence), content);
  }

  private double togetherGrams(double inflation, double content) {
    return Math.max(0, curves.future(inflation, judged().twoSided()).bound(content));
  }

  /** The larger of the bounds at single points and the bound over all points together. */
  double boundGrams(double content, double confidence) {
    double bound = curveGrams(content, confidence);
    for (int p = 0; p < parts.size(); p++) {
      bound = Math.max(bound, boundAt(p, content, confidence));
    }
    return bound;
  }

  /** Standard deviation of each source at a point, in grams at the load, coarsest first. */
  List<LevelOutcome.Contribution> contributions(int point) {
    double weight = judged().weight(point);
    return sources(point).stream()
        .map(
            source ->
                new LevelOutcome.Contribution(
                    source.role(), source.title(), weight * Math.sqrt(source.fitted())))
        .toList();
  }

  /** Limits load by load, in grams at the load. */
  List<LevelOutcome.PointLimit> points(double content, double confidence) {
    return IntStream.range(0, parts.size()).mapToObj(p -> point(p, content, confidence)).toList();
  }

  private LevelOutcome.PointLimit point(int p, double content, double confidence) {
    ErrorCurve.Point where = judged().place(p);
    FutureUnitLimits limits = limits(p, content, confidence);
    double weight = judged().weight(p);
    double mean = judged().sign() * weight * limits.mean();
    double variance = sources(p).stream().mapToDouble(Source::variance).sum();
    return new LevelOutcome.PointLimit(
        where.loadKilograms(),
        where.direction(),
        mean,
        weight * Math.sqrt(variance),
        weight * counted(limits),
        counted(limits),
        weight * Math.max(0, largestAt(p)),
        contributions(p));
  }

  /** The largest tested value at a point; over sums of halves the largest that they can make. */
  private double largestAt(int point) {
    if (!isSum()) {
      return judged().largestAt(point);
    }
    double high = shifts[point];
    double low = shifts[point];
    for (ModelPart half : halves) {
      List<Double> values = half.judged().at(point);
      high += values.stream().mapToDouble(Double::doubleValue).max().orElse(0);
      low += values.stream().mapToDouble(Double::doubleValue).min().orElse(0);
    }
    return judged().twoSided() ? Math.max(Math.abs(high), Math.abs(low)) : high;
  }

  /** Covariance over the points of each role, of the one set of runs that kits were measured in. */
  Map<Role, double[][]> covariances() {
    if (isSum()) {
      throw new IllegalStateException(
          "kits that are sums of halves have no components of their own");
    }
    CurveComponents ofKits = byHalf.get(0);
    Map<Role, double[][]> result = new EnumMap<>(Role.class);
    List<Role> roles = halves.get(0).roles();
    for (int k = 0; k < roles.size(); k++) {
      result.put(roles.get(k), ofKits.covariance(ofKits.componentNames().get(k)));
    }
    return result;
  }

  /** The components over all points together. */
  CurveComponents curves() {
    return curves;
  }

  /** Roles of all halves, the residual of kits included. */
  List<Role> roles() {
    return halves.stream().flatMap(half -> half.roles().stream()).distinct().toList();
  }
}
