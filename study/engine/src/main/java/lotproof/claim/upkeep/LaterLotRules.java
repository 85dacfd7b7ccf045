package lotproof.claim.upkeep;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.upkeep.LaterLotCheck.Mean;
import lotproof.claim.upkeep.LaterLotCheck.Rule;
import lotproof.claim.upkeep.LaterLotCheck.Single;
import lotproof.claim.upkeep.LaterLotCheck.Spread;
import lotproof.model.Role;
import lotproof.statistics.DistributionQuantiles;
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

  private final ComponentsFit fit;
  private final Set<String> lots;
  private final Set<String> partner;
  private final double alpha;
  private final boolean twoSided;

  /**
   * Rules from a fit.
   *
   * @param fit of the study's errors at one load
   * @param partner those of them that the claim does not speak of
   * @param alpha false-alarm rate of each rule
   * @param twoSided whether errors of both signs count against the figure
   */
  LaterLotRules(ComponentsFit fit, Set<String> partner, double alpha, boolean twoSided) {
    this.partner =
        fit.componentNames().stream()
            .filter(partner::contains)
            .collect(Collectors.toUnmodifiableSet());
    this.twoSided = twoSided;
    this.fit = fit;
    this.alpha = alpha;
    this.lots =
        fit.componentNames().stream()
            .filter(n -> n.equals(Role.CELL_LOT.key()) || n.equals(Role.BOARD_LOT.key()))
            .collect(Collectors.toSet());
  }

  private FutureUnitLimits limits(Set<String> excluded, double content, double confidence) {
    return FutureUnitLimits.of(fit, excluded, content, confidence);
  }

  private FutureUnitLimits within(double confidence) {
    return limits(lots, 0.95, confidence);
  }

  private double betweenUpper() {
    return upper(lots);
  }

  /** Upper limit of the standard deviation of some components together. */
  private double upper(Set<String> wanted) {
    Set<String> others =
        fit.componentNames().stream().filter(n -> !wanted.contains(n)).collect(Collectors.toSet());
    return wanted.isEmpty() ? 0 : limits(others, 0.95, CONFIDENCE_OF_SPREAD).totalSdUpper();
  }

  private Set<String> partnerLots() {
    return partner.stream().filter(lots::contains).collect(Collectors.toSet());
  }

  /** How a mean of n kits may differ from the study's. */
  double meanLimit(int n) {
    FutureUnitLimits within = within(CONFIDENCE_OF_SPREAD);
    double z = DistributionQuantiles.normalUpper(alpha / 2);
    double t =
        DistributionQuantiles.studentUpper(Math.max(1, within.meanDegreesOfFreedom()), alpha / 2);
    double study = within.meanStandardError();
    return Math.sqrt(
        square(z * betweenUpper())
            + square(z * within.totalSdUpper()) / n
            // with few degrees of freedom the t quantile runs away; lots are in the first term
            + square(Math.min(t, 2 * z) * study));
  }

  /** Standard deviation within lots, as estimated. */
  double withinSd() {
    return Math.sqrt(
        fit.componentNames().stream()
            .filter(n -> !lots.contains(n))
            .mapToDouble(fit::variance)
            .sum());
  }

  private double withinDegreesOfFreedom() {
    return Math.max(1, within(CONFIDENCE_OF_SPREAD).effectiveDegreesOfFreedom());
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
    return limits(Set.of(), 1 - alpha / n, CONFIDENCE_OF_SPREAD).twoSidedHalfWidth();
  }

  /** Most kits of n beyond the figure that the claim's content explains. */
  int allowedBeyond(int n, double figureGrams, double content) {
    double beyond = beyond(figureGrams, content);
    for (int k = 0; k <= n; k++) {
      if (binomialUpperTail(k + 1, n, beyond) <= alpha) {
        return k;
      }
    }
    return n;
  }

  /** Share of measured kits that may be beyond the figure while the claim holds. */
  private double beyond(double figureGrams, double content) {
    if (partner.isEmpty()) {
      return 1 - content;
    }
    double sd = limits(Set.of(), 0.95, CONFIDENCE_OF_SPREAD).totalSdUpper();
    double counted = twoSided ? Math.abs(fit.mean()) : fit.mean();
    double within = sd > 0 ? Conformity.probability(counted, sd, zone(figureGrams)) : 1;
    return Math.min(1 - 1e-12, Math.max(1 - content, 1 - within));
  }

  private Zone zone(double figureGrams) {
    return twoSided ? Zone.symmetric(figureGrams) : Zone.atMost(figureGrams);
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
    double sd =
        Math.sqrt(
            fit.componentNames().stream()
                .filter(name -> !lots.contains(name) && !partner.contains(name))
                .mapToDouble(fit::variance)
                .sum());
    double margin = Math.hypot(t * withinSd() / Math.sqrt(n), z * upper(partnerLots()));
    double counted = twoSided ? Math.abs(mean) : mean;
    if (!(sd > 0)) {
      return counted - margin <= figureGrams ? 1 : 0;
    }
    double nearest = twoSided ? Math.max(0, counted - margin) : counted - margin;
    return Conformity.probability(nearest, sd, zone(figureGrams));
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
    Set<Rule> broken = EnumSet.noneOf(Rule.class);
    if (single.beyond() > single.allowedBeyond()) {
      broken.add(Rule.BEYOND);
    }
    if (single.furthestGrams() > single.extremeGrams()) {
      broken.add(Rule.EXTREME);
    }
    if (single.bestContentFraction() < content) {
      broken.add(Rule.CONTENT);
    }
    WatchLine.Verdict verdict =
        broken.isEmpty() ? WatchLine.Verdict.CLAIM_HOLDS : WatchLine.Verdict.HOLD_THE_LOT;
    if (Math.abs(lotMean - fit.mean()) > mean.limitGrams()) {
      broken.add(Rule.MEAN);
    }
    if (spread.grams().isPresent()
        && spread.grams().getAsDouble() > spread.limitGrams().getAsDouble()) {
      broken.add(Rule.SPREAD);
    }
    if (verdict == WatchLine.Verdict.CLAIM_HOLDS && !broken.isEmpty()) {
      verdict = WatchLine.Verdict.RE_STUDY;
    }
    return new Judgement(mean, spread, single, verdict, List.copyOf(broken));
  }

  /** What the rules found. */
  record Judgement(
      Mean mean, Spread spread, Single single, WatchLine.Verdict verdict, List<Rule> broken) {}

  private static double square(double value) {
    return value * value;
  }
}
