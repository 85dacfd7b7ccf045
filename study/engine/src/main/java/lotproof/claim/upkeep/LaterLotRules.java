package lotproof.claim.upkeep;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.upkeep.LaterLotCheck.Judgement;
import lotproof.claim.upkeep.LaterLotCheck.Mean;
import lotproof.claim.upkeep.LaterLotCheck.Rule;
import lotproof.claim.upkeep.LaterLotCheck.Single;
import lotproof.claim.upkeep.LaterLotCheck.Spread;
import lotproof.model.Role;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.summary.Summary;
import lotproof.study.WatchLine;

/**
 * The rules by which a few kits of a later lot are held against a study, at one load.
 *
 * <p>From the study: mean mu with standard error w, variance between lots L^2, variance within lots
 * W^2 (cells, boards, pairing, bench). Upper limits of L and W are those of {@link
 * FutureUnitLimits} at 90 % confidence, so that few lots make a wide rule and no false alarm. With
 * n kits that share no unit, mean m and standard deviation s:
 *
 * <ol>
 *   <li>mean: |m - mu| beyond sqrt((z L_U)^2 + (z W_U)^2 / n + (t w)^2), two-sided;
 *   <li>spread: s^2 / W^2 above the F quantile with n - 1 and the study's degrees of freedom;
 *   <li>kits beyond the figure: more than a binomial count with the claim's content explains;
 *   <li>a single kit further from mu than any of n kits of the studied population would be;
 *   <li>content: even with the mean nearest to zero that the kits allow, m -+ t W / sqrt(n), less
 *       than the claim's content of the lot lies within the figure.
 * </ol>
 *
 * <p>Where the claim is for cells or boards alone and the lot is measured as kits, the kits have
 * partners that the figure does not speak of. Rules 1, 2 and 4 are of kits as before. Rule 3 counts
 * with the share of kits that the study has beyond the figure, partner included, if that is more
 * than the claim allows of units; rule 5 takes the spread without the partner, and a mean that lots
 * of partners may have moved by z L_U of theirs.
 *
 * <p>Each rule has the false-alarm rate that it is given; rules 1 and 2 say that the lot differs
 * from what was studied, rules 3 to 5 that it does not keep the claim. A construction; its rates
 * are measured (docs/guarantees.md).
 */
final class LaterLotRules {
  /** Rules at one level, which share its false-alarm rate. */
  static final int RULES = Rule.values().length;

  private static final double CONFIDENCE_OF_SPREAD = 0.9;
  private static final double POWER = 0.8;
  private static final Set<Component> LOTS =
      Set.of(Role.CELL_LOT.component(), Role.BOARD_LOT.component());
  private final ComponentsFit fit;
  private final Set<Component> partner;
  private final double alpha;
  private final boolean twoSided;
  private final FutureUnitLimits within;

  /**
   * Rules from a fit.
   *
   * @param fit of the study's errors at one load
   * @param partner those of its components that the claim does not speak of
   * @param alpha false-alarm rate of each rule
   * @param twoSided whether errors of both signs count against the figure
   */
  LaterLotRules(ComponentsFit fit, Set<Component> partner, double alpha, boolean twoSided) {
    this.fit = fit;
    this.partner = components(partner::contains);
    this.alpha = alpha;
    this.twoSided = twoSided;
    this.within = limits(components(LOTS::contains), 0.95);
  }

  private Set<Component> components(Predicate<Component> wanted) {
    return fit.components().stream().filter(wanted).collect(Collectors.toSet());
  }

  private FutureUnitLimits limits(Set<Component> excluded, double content) {
    return FutureUnitLimits.of(fit, excluded, content, CONFIDENCE_OF_SPREAD);
  }

  /** Upper limit of the standard deviation of some components together; 0 of none. */
  private double upper(Predicate<Component> wanted) {
    return components(wanted).isEmpty()
        ? 0
        : limits(components(wanted.negate()), 0.95).totalSdUpper();
  }

  private double sd(Predicate<Component> wanted) {
    return Math.sqrt(components(wanted).stream().mapToDouble(fit::variance).sum());
  }

  /** How a mean of n kits may differ from the study's. */
  double meanLimit(int n) {
    double z = DistributionQuantiles.normalUpper(alpha / 2);
    double t =
        DistributionQuantiles.studentUpper(Math.max(1, within.meanDegreesOfFreedom()), alpha / 2);
    double ofLots = z * upper(LOTS::contains);
    double ofKits = z * within.totalSdUpper();
    // with few degrees of freedom the t quantile runs away; lots are in the first term
    double ofStudy = Math.min(t, 2 * z) * within.meanStandardError();
    return Math.sqrt(ofLots * ofLots + ofKits * ofKits / n + ofStudy * ofStudy);
  }

  /** Standard deviation within lots, as estimated. */
  double withinSd() {
    return sd(name -> !LOTS.contains(name));
  }

  private double withinDegreesOfFreedom() {
    return Math.max(1, within.effectiveDegreesOfFreedom());
  }

  /** Largest standard deviation of n kits that the study explains. */
  OptionalDouble sdLimit(int n) {
    return n < 2
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            withinSd()
                * Math.sqrt(
                    DistributionQuantiles.fisherUpper(n - 1.0, withinDegreesOfFreedom(), alpha)));
  }

  /** How far any of n kits may be from the study's mean. */
  double extremeLimit(int n) {
    return limits(Set.of(), 1 - alpha / n).twoSidedHalfWidth();
  }

  /** Most kits of n beyond the figure that the claim's content explains. */
  int allowedBeyond(int n, double figureGrams, double content) {
    double beyond = beyond(figureGrams, content);
    return IntStream.range(0, n)
        .filter(k -> binomialUpperTail(k + 1, n, beyond) <= alpha)
        .findFirst()
        .orElse(n);
  }

  /** Share of measured kits that may be beyond the figure while the claim holds. */
  private double beyond(double figureGrams, double content) {
    if (partner.isEmpty()) {
      return 1 - content;
    }
    double kept = contentWithin(fit.mean(), 0, limits(Set.of(), 0.95).totalSdUpper(), figureGrams);
    return Math.min(1 - 1e-12, Math.max(1 - content, 1 - kept));
  }

  /** P(count of n is k or more) with the chance p each. */
  static double binomialUpperTail(int k, int n, double p) {
    double term = Math.pow(1 - p, n);
    double below = 0;
    for (int i = 0; i < k && i <= n; i++) {
      below += term;
      term *= (double) (n - i) / (i + 1) * p / (1 - p);
    }
    return Math.max(0, 1 - below);
  }

  /** Share of the lot within the figure by the most favourable mean that n kits allow. */
  double bestContent(double mean, int n, double figureGrams) {
    double t = DistributionQuantiles.studentUpper(withinDegreesOfFreedom(), alpha);
    double z = DistributionQuantiles.normalUpper(alpha);
    double ofPartnerLots = upper(name -> partner.contains(name) && LOTS.contains(name));
    double margin = Math.hypot(t * withinSd() / Math.sqrt(n), z * ofPartnerLots);
    double sd = sd(name -> !LOTS.contains(name) && !partner.contains(name));
    return contentWithin(mean, margin, sd, figureGrams);
  }

  /** Content within the figure by the mean nearest to zero within a margin. */
  private double contentWithin(double mean, double margin, double sd, double figureGrams) {
    double nearest = (twoSided ? Math.abs(mean) : mean) - margin;
    if (!(sd > 0)) {
      return nearest <= figureGrams ? 1 : 0;
    }
    return twoSided
        ? Conformity.probability(Math.max(0, nearest), sd, Zone.symmetric(figureGrams))
        : Conformity.probability(nearest, sd, Zone.atMost(figureGrams));
  }

  /** A shift of the lot's mean that is seen in 80 % of checks. */
  double seenShift(int n) {
    return meanLimit(n) + DistributionQuantiles.normal(POWER) * withinSd() / Math.sqrt(n);
  }

  /** A spread within the lot, in times the study's, that is seen in 80 % of checks. */
  OptionalDouble seenSpreadRatio(int n) {
    if (n < 2) {
      return OptionalDouble.empty();
    }
    double df = withinDegreesOfFreedom();
    return OptionalDouble.of(
        Math.sqrt(
            DistributionQuantiles.fisherUpper(n - 1.0, df, alpha)
                / DistributionQuantiles.fisher(n - 1.0, df, 1 - POWER)));
  }

  /**
   * What a lot's kits say.
   *
   * @param atLoad error of each kit at the load, kits that share no unit
   * @param largest largest error that counts of each kit over all loads
   */
  Judgement judge(double[] atLoad, double[] largest, double figureGrams, double content) {
    int n = atLoad.length;
    double lotMean = Summary.mean(atLoad);
    Mean mean = new Mean(lotMean, fit.mean(), meanLimit(n), seenShift(n));
    Spread spread =
        new Spread(
            n < 2 ? OptionalDouble.empty() : OptionalDouble.of(Summary.sd(atLoad)),
            withinSd(),
            sdLimit(n),
            seenSpreadRatio(n));
    Single single =
        new Single(
            Arrays.stream(largest).max().orElse(0),
            largest.length,
            (int) Arrays.stream(largest).filter(e -> e > figureGrams).count(),
            allowedBeyond(largest.length, figureGrams, content),
            Arrays.stream(atLoad).map(e -> Math.abs(e - fit.mean())).max().orElse(0),
            extremeLimit(n),
            bestContent(lotMean, n, figureGrams));
    Map<Rule, Boolean> against = new EnumMap<>(Rule.class);
    against.put(Rule.BEYOND, single.beyond() > single.allowedBeyond());
    against.put(Rule.EXTREME, single.furthestGrams() > single.extremeGrams());
    against.put(Rule.CONTENT, single.bestContentFraction() < content);
    against.put(Rule.MEAN, Math.abs(lotMean - fit.mean()) > mean.limitGrams());
    against.put(
        Rule.SPREAD,
        spread.grams().orElse(0) > spread.limitGrams().orElse(Double.POSITIVE_INFINITY));
    List<Rule> broken =
        against.entrySet().stream().filter(Map.Entry::getValue).map(Map.Entry::getKey).toList();
    WatchLine.Verdict verdict =
        broken.isEmpty()
            ? WatchLine.Verdict.CLAIM_HOLDS
            : broken.get(0).compareTo(Rule.MEAN) < 0
                ? WatchLine.Verdict.HOLD_THE_LOT
                : WatchLine.Verdict.RE_STUDY;
    return new Judgement(mean, spread, single, verdict, broken);
  }
}
