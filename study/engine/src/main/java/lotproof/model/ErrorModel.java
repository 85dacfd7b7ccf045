package lotproof.model;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import lotproof.statistics.components.CaseDeletion;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.FutureUnitLimits.Part;

/**
 * The mixed model of error curves in the claim's form: a fit at each point of the run, the
 * covariances over the points together, and a bound over all of them.
 */
public final class ErrorModel {
  private final List<ModelPart> halves;
  private final CurveValues values;
  private final List<List<Part>> parts;
  private final List<CurveComponents> byHalf;
  private final CurveComponents curves;

  private ErrorModel(
      List<ModelPart> halves,
      CurveValues values,
      List<List<Part>> parts,
      List<CurveComponents> byHalf,
      CurveComponents curves) {
    this.halves = halves;
    this.values = values;
    this.parts = parts;
    this.byHalf = List.copyOf(byHalf);
    this.curves = curves;
  }

  /** A model, or the reason why there is none. */
  public sealed interface Outcome {
    /** There is a model. */
    record Fitted(ErrorModel model) implements Outcome {}

    /** There is none. */
    record NotFitted(NotEstimable why) implements Outcome {}
  }

  /** Where fits start that cannot end far away. */
  public interface Start {
    /**
     * What is near the fit of one half at a point.
     *
     * @param before fits of that half at the points before
     */
    FitOptions of(int point, int half, List<ComponentsFit> before);

    /** Whether those fits are of the very runs, so that their structure serves as it is. */
    default boolean ofTheseRuns() {
      return false;
    }
  }

  /**
   * Fits the model.
   *
   * @param halves independent sets of runs whose sum is a kit; one where kits were measured
   * @param start fits of nearly the same values
   */
  public static Outcome fit(List<ModelPart> halves, CurveValues values, Optional<Start> start) {
    List<CurveComponents> curves = new ArrayList<>();
    List<List<Part>> parts = new ArrayList<>();
    for (int p = 0; p < values.points(); p++) {
      parts.add(new ArrayList<>());
    }
    boolean ofTheseRuns = start.map(Start::ofTheseRuns).orElse(false);
    for (int h = 0; h < halves.size(); h++) {
      ModelPart half = halves.get(h);
      List<ComponentsFit> fits = new ArrayList<>();
      double[][] byRun = new double[half.runs().size()][values.points()];
      for (int p = 0; p < values.points(); p++) {
        double[] own = ModelPart.pick(values.byPoint()[p], half.runs());
        Optional<FitOptions> near = Optional.empty();
        if (start.isPresent()) {
          near = Optional.of(start.get().of(p, h, fits));
        }
        FitOutcome fitted = fit(half, own, fits, near, ofTheseRuns);
        if (!(fitted instanceof ComponentsFit fit)) {
          return new Outcome.NotFitted((NotEstimable) fitted);
        }
        fits.add(fit);
        parts.get(p).add(new Part(fit, half.weights()));
        for (int run = 0; run < own.length; run++) {
          byRun[run][p] = own[run];
        }
      }
      FitOutcome together = CurveComponents.ofFits(byRun, fits, half.weights());
      if (!(together instanceof CurveComponents components)) {
        return new Outcome.NotFitted((NotEstimable) together);
      }
      curves.add(components);
    }
    double[] shifts = values.shifts();
    CurveComponents all =
        curves.size() == 1 && Arrays.stream(shifts).allMatch(shift -> shift == 0)
            ? curves.get(0)
            : CurveComponents.sum(curves, shifts);
    return new Outcome.Fitted(new ErrorModel(halves, values, parts, curves, all));
  }

  /**
   * Fits one point of one half.
   *
   * @param before fits of the points before
   */
  private static FitOutcome fit(
      ModelPart half,
      double[] values,
      List<ComponentsFit> before,
      Optional<FitOptions> near,
      boolean ofTheseRuns) {
    if (before.isEmpty() && !ofTheseRuns) {
      return half.plan().fit(half.labelled().withValues(values), near.orElse(FitOptions.REML));
    }
    ComponentsFit structure =
        before.isEmpty()
            ? near.flatMap(FitOptions::start).orElseThrow().fit()
            : before.get(before.size() - 1);
    return ComponentsFitter.fit(
        structure.observations().withValues(values), near.orElse(FitOptions.REML));
  }

  /** The fit of one half at a point. */
  public ComponentsFit fit(int point, int half) {
    return parts.get(point).get(half).fit();
  }

  /** Number of points. */
  public int points() {
    return parts.size();
  }

  /** Whether kits are put together from halves that were measured apart. */
  public boolean isSum() {
    return halves.size() > 1;
  }

  /** Limits of a future kit at one point. */
  public FutureUnitLimits limits(int point, double content, double confidence) {
    return limits(parts.get(point), values.shifts()[point], content, confidence);
  }

  private static FutureUnitLimits limits(
      List<Part> parts, double shift, double content, double confidence) {
    return FutureUnitLimits.ofSum(parts, shift, content, confidence);
  }

  /** What counts of the limits: about zero, or the upper one where one side counts. */
  public double counted(FutureUnitLimits limits) {
    return values.sizes() ? limits.symmetricHalfWidth() : Math.max(0, limits.upper());
  }

  /** The bound at one point. */
  public double boundAt(int point, double content, double confidence) {
    return counted(limits(point, content, confidence));
  }

  /** The same with the variances of some sources at a share of what they are. */
  public double boundAt(
      int point, Predicate<Source> which, double share, double content, double confidence) {
    List<Part> changed = new ArrayList<>(parts.get(point));
    sources(point).stream()
        .filter(which)
        .forEach(source -> changed.set(source.half, scaled(changed, source, share)));
    return counted(limits(changed, values.shifts()[point], content, confidence));
  }

  private static Part scaled(List<Part> parts, Source source, double share) {
    Part part = parts.get(source.half);
    return new Part(part.fit(), part.weights().scaled(Set.of(source.component), share));
  }

  /** What leaving out curves would do to the fit at a point, to first order. */
  public CaseDeletion deletion(int point) {
    return new CaseDeletion(parts.get(point).get(0).fit());
  }

  /** The bound at one point with the variances and the mean moved by so much. */
  public double boundAfter(
      CaseDeletion.Change change, int point, double content, double confidence) {
    Part part = parts.get(point).get(0);
    double[] variances = part.fit().variances();
    ComponentWeights weights = part.weights();
    for (int k = 0; k < variances.length; k++) {
      if (variances[k] > 0) {
        double share = 1 + change.variances()[k] / variances[k];
        weights = weights.scaled(Set.of(part.fit().components().get(k)), share);
      }
    }
    return counted(
        limits(
            List.of(new Part(part.fit(), weights)),
            values.shifts()[point] + change.mean(),
            content,
            confidence));
  }

  /** The same with the mean error taken as zero, its uncertainty kept. */
  public double boundWithoutMean(int point, double content, double confidence) {
    double mean = parts.get(point).stream().mapToDouble(part -> part.fit().mean()).sum();
    return counted(limits(parts.get(point), -mean, content, confidence));
  }

  /**
   * One source of error at one point.
   *
   * @param half which half it belongs to
   * @param component its name in the fit
   * @param variance as it enters what the claim is about, in the claim's form; 0 where it does not
   */
  public record Source(
      int half, Component component, Role role, String title, double variance, double fitted) {}

  /** All sources at a point, coarsest first, half by half. */
  public List<Source> sources(int point) {
    List<Source> sources = new ArrayList<>();
    for (int h = 0; h < halves.size(); h++) {
      Part part = parts.get(point).get(h);
      double[] variances = part.fit().variances();
      List<Role> roles = halves.get(h).roles();
      for (int k = 0; k < variances.length; k++) {
        Component component = part.fit().components().get(k);
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

  /** Index of the point with the widest bound. */
  public int worst(double content, double confidence) {
    return IntStream.range(0, points())
        .reduce((a, b) -> boundAt(b, content, confidence) > boundAt(a, content, confidence) ? b : a)
        .orElse(0);
  }

  /** What a share of kits keeps within over all points, as estimated, without widening. */
  public double asEstimatedGrams(double content) {
    return togetherGrams(1, content);
  }

  /**
   * How far, as a standard deviation, a future kit at a point may lie from the estimated mean by
   * what bounds count with: the upper limit there, or the estimates of kits and of the mean
   * together as widened over all points, if that is larger.
   */
  public double countedSd(int point, double content, double confidence) {
    List<FutureUnitLimits> limits = limits(content, confidence);
    FutureUnitLimits here = limits.get(point);
    double estimated = Math.hypot(here.totalSd(), here.meanStandardError());
    return Math.max(here.totalSdUpper(), CurveComponents.inflation(limits) * estimated);
  }

  /** Bound for a future kit over all points together. */
  public double curveGrams(double content, double confidence) {
    return curveGrams(limits(content, confidence), content);
  }

  private double curveGrams(List<FutureUnitLimits> limits, double content) {
    return togetherGrams(CurveComponents.inflation(limits), content);
  }

  private double togetherGrams(double inflation, double content) {
    return Math.max(0, curves.future(inflation, values.sizes()).bound(content));
  }

  /** The larger of the bounds at single points and the bound over all points together. */
  public double boundGrams(double content, double confidence) {
    List<FutureUnitLimits> limits = limits(content, confidence);
    double atPoints = limits.stream().mapToDouble(this::counted).max().orElse(0);
    return Math.max(atPoints, curveGrams(limits, content));
  }

  /** Limits of a future kit at each point. */
  private List<FutureUnitLimits> limits(double content, double confidence) {
    return IntStream.range(0, points()).mapToObj(p -> limits(p, content, confidence)).toList();
  }

  /** The largest tested value at a point; over sums of halves the largest that they can make. */
  public double largestAt(int point) {
    if (!isSum()) {
      return Arrays.stream(ModelPart.pick(values.byPoint()[point], halves.get(0).runs()))
          .map(values::counted)
          .max()
          .orElse(0);
    }
    double high = values.shifts()[point];
    double low = values.shifts()[point];
    for (ModelPart half : halves) {
      double[] own = ModelPart.pick(values.byPoint()[point], half.runs());
      high += Arrays.stream(own).max().orElse(0);
      low += Arrays.stream(own).min().orElse(0);
    }
    return values.sizes() ? Math.max(Math.abs(high), Math.abs(low)) : high;
  }

  /** Covariance over the points of each role, of the one set of runs that kits were measured in. */
  public Map<Role, double[][]> covariances() {
    if (isSum()) {
      throw new IllegalStateException(
          "kits that are sums of halves have no components of their own");
    }
    CurveComponents ofKits = byHalf.get(0);
    Map<Role, double[][]> result = new EnumMap<>(Role.class);
    List<Role> roles = halves.get(0).roles();
    for (int k = 0; k < roles.size(); k++) {
      result.put(roles.get(k), ofKits.covariance(ofKits.components().get(k)));
    }
    return result;
  }

  /** Mean of a kit's errors at each point. */
  public double[] means() {
    return curves.means();
  }

  /** Roles of all halves, the residual of kits included. */
  public List<Role> roles() {
    return halves.stream().flatMap(half -> half.roles().stream()).distinct().toList();
  }
}
