package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.Numbers;
import lotproof.reduce.Direction;
import lotproof.spread.Role;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Risks;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.NormalTolerance;
import lotproof.study.CalibrationLevel;

/**
 * Computes the limit of a production test of finished kits.
 *
 * <p>With A the figure, G what the figure adds for any kit (limits of error of the tester's and the
 * buyer's masses, loads between the tested ones, temperature correction) and u the standard
 * uncertainty that a later reading differs from the tested one by: u^2 = tester^2 + repeat^2,
 * repeat being what the study found between runs.
 *
 * <ul>
 *   <li>A tested load allows A - G - w, w the guard band with which an item just within the limit
 *       conforms with the probability p_j (JCGM 106:2012, clause 8; {@link
 *       Conformity#guardBand(double, double, Zone)}).
 *   <li>A load that is not tested is foretold from a tested one: E_j = c + b E_t + r, by least
 *       squares over the study's runs. It allows (A - G - |c| - q) / |b| with q^2 = (k s)^2 + (z u
 *       b)^2 + (z repeat)^2; k the two-sided normal tolerance factor for the content p_j at the
 *       study's confidence and the number of kits that share no unit, or, if larger, the largest
 *       |r| of the study instead of k s. The tested load that allows most is used.
 *   <li>p_j = 1 - (1 - p) / m for m loads, so that a kit keeps the figure at all loads together
 *       with p (Bonferroni). The limit is the smallest that a load allows.
 * </ul>
 *
 * <p>At a tested load the guard band holds for <b>any</b> kit that passes, however production
 * shifts. A load that is not tested is protected for production as it was studied: a least-squares
 * line belongs to the population that it was fitted to, and a far shift can break it
 * (docs/guarantees.md measures one). That step is a construction; the guard band of a tested load
 * is textbook. Yield and risks are those of the study's own production, normal at the tested load
 * that rejects most (JCGM 106:2012, clause 9).
 */
final class PairTests {
  private final TestedErrors errors;
  private final LimitOptions options;
  private final double confidence;
  private final double room;
  private final double massGrams;
  private final List<Integer> tested;
  private final double perLoad;

  private PairTests(
      TestedErrors errors,
      LimitOptions options,
      double confidence,
      double figureGrams,
      double massGrams) {
    this.errors = errors;
    this.options = options;
    this.confidence = confidence;
    this.room = figureGrams - massGrams;
    this.massGrams = massGrams;
    this.tested = errors.tested(options);
    this.perLoad = 1 - (1 - options.conformity()) / errors.points().size();
  }

  /**
   * The test of one calibration level.
   *
   * @param figureGrams the figure to protect
   * @param massGrams what the figure adds for any kit
   * @param confidence of the study
   */
  static PairTest of(
      CalibrationLevel level,
      TestedErrors errors,
      LimitOptions options,
      double confidence,
      double figureGrams,
      double massGrams) {
    PairTests tests = new PairTests(errors, options, confidence, figureGrams, massGrams);
    if (tests.tested.isEmpty()) {
      return new PairTest.CannotProtect(
          "None of the test loads is a load at which this calibration leaves an error; the study has "
              + loads(errors.points())
              + ".");
    }
    if (!(tests.room > 0)) {
      return new PairTest.CannotProtect(
          String.format(
              Locale.ROOT,
              "What is added for masses, loads between and correction is %.3g g, which leaves nothing of ±%s g.",
              massGrams,
              Numbers.plain(figureGrams)));
    }
    return tests.limit(level, figureGrams);
  }

  private PairTest limit(CalibrationLevel level, double figureGrams) {
    List<PairTest.LoadGuard> guards =
        IntStream.range(0, errors.points().size())
            .mapToObj(i -> tested.contains(i) ? testedLoad(i) : foretold(i))
            .toList();
    int governing =
        IntStream.range(0, guards.size())
            .boxed()
            .min(Comparator.comparingDouble(i -> guards.get(i).allowsGrams()))
            .orElseThrow();
    double bound = guards.get(governing).allowsGrams();
    if (!(bound > 0)) {
      PairTest.LoadGuard worst = guards.get(governing);
      return new PairTest.CannotProtect(
          String.format(
              Locale.ROOT,
              "At %s kg %s the allowance of %.3g g leaves no room for ±%s g%s.",
              Numbers.plain(worst.loadKilograms()),
              worst.direction().word(),
              worst.uncertaintyGrams() + massGrams + Math.abs(worst.offsetGrams()),
              Numbers.plain(figureGrams),
              worst.tested() ? "" : "; test at that load too"));
    }
    double accept = roundedInward(bound);
    int strictest = strictest(accept);
    PointLimit point = errors.points().get(strictest);
    double repeat = errors.sd(strictest, Role.RESIDUAL);
    double sd =
        Math.sqrt(Math.max(0, square(point.totalStandardDeviationGrams()) - square(repeat)));
    double u = uncertainty(strictest);
    Risks risks =
        sd > 0
            ? Conformity.risks(
                point.meanGrams(), sd, u, Zone.symmetric(room), Zone.symmetric(accept))
            : new Risks(0, 0);
    return new PairTest.Protects(
        accept,
        bound,
        figureGrams - accept,
        massGrams,
        tester(strictest),
        guards,
        governing,
        passing(point.meanGrams(), Math.hypot(sd, tester(strictest)), accept),
        passed(accept),
        errors.curves().size(),
        risks.consumer(),
        risks.producer(),
        words(level, figureGrams, accept));
  }

  private PairTest.LoadGuard testedLoad(int at) {
    PointLimit point = errors.points().get(at);
    double u = uncertainty(at);
    double guard;
    try {
      guard = Conformity.guardBand(u, perLoad, Zone.symmetric(room));
    } catch (IllegalArgumentException noValueConforms) {
      guard = room;
    }
    return new PairTest.LoadGuard(
        point.loadKilograms(),
        point.direction(),
        true,
        Optional.empty(),
        0,
        1,
        guard,
        room - guard);
  }

  private PairTest.LoadGuard foretold(int at) {
    return tested.stream()
        .map(from -> foretold(at, from))
        .max(Comparator.comparingDouble(PairTest.LoadGuard::allowsGrams))
        .orElseThrow();
  }

  private PairTest.LoadGuard foretold(int at, int from) {
    double[] x = errors.column(from);
    double[] y = errors.column(at);
    double slope = slope(x, y);
    double offset = Summary.mean(y) - slope * Summary.mean(x);
    double[] residuals =
        IntStream.range(0, x.length).mapToDouble(i -> y[i] - offset - slope * x[i]).toArray();
    int n = x.length;
    double sd = Math.sqrt(Arrays.stream(residuals).map(r -> r * r).sum() / (n - 2));
    double largest = Arrays.stream(residuals).map(Math::abs).max().orElseThrow();
    double k =
        NormalTolerance.twoSidedFactor(Math.max(3, errors.disjointKits()), perLoad, confidence);
    double unexplained = Math.max(k * sd, largest);
    double z = DistributionQuantiles.normal(1 - (1 - perLoad) / 2);
    double allowance =
        Math.sqrt(
            square(unexplained)
                + square(z * tester(from) * slope)
                + square(z * errors.sd(at, Role.RESIDUAL)));
    double left = room - Math.abs(offset) - allowance;
    // a load that the tested one says nothing about is kept, or not, whatever the limit is
    double allows = left <= 0 ? left : Math.min(room, left / Math.max(1e-12, Math.abs(slope)));
    PointLimit point = errors.points().get(at);
    PointLimit source = errors.points().get(from);
    return new PairTest.LoadGuard(
        point.loadKilograms(),
        point.direction(),
        false,
        Optional.of(Numbers.plain(source.loadKilograms()) + " kg " + source.direction().word()),
        offset,
        slope,
        allowance,
        allows);
  }

  private static double slope(double[] x, double[] y) {
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double squares = 0;
    double products = 0;
    for (int i = 0; i < x.length; i++) {
      squares += square(x[i] - meanX);
      products += (x[i] - meanX) * (y[i] - meanY);
    }
    return squares > 0 ? products / squares : 0;
  }

  /** The tested point at which the study's production fails the limit most often. */
  private int strictest(double accept) {
    return tested.stream()
        .min(
            Comparator.comparingDouble(
                i ->
                    passing(
                        errors.points().get(i).meanGrams(),
                        errors.points().get(i).totalStandardDeviationGrams(),
                        accept)))
        .orElseThrow();
  }

  private static double passing(double mean, double sd, double accept) {
    return sd > 0
        ? Conformity.probability(mean, sd, Zone.symmetric(accept))
        : Math.abs(mean) <= accept ? 1 : 0;
  }

  private int passed(double accept) {
    return (int)
        Arrays.stream(errors.grams())
            .filter(row -> tested.stream().allMatch(i -> Math.abs(row[i]) <= accept))
            .count();
  }

  private double tester(int at) {
    double repeat = errors.sd(at, Role.RESIDUAL);
    // a study without repeats has no repeatability of its own; a tenth of the total stands for none
    double fallback =
        repeat > 0 ? repeat : errors.points().get(at).totalStandardDeviationGrams() / 10;
    return options.testerUncertaintyGrams().orElse(Math.max(fallback, 1e-6));
  }

  private double uncertainty(int at) {
    return Math.hypot(tester(at), errors.sd(at, Role.RESIDUAL));
  }

  private static double square(double value) {
    return value * value;
  }

  /** Three significant digits, never above the value. */
  static double roundedInward(double grams) {
    // the shortest decimal, so that 44.4 is not taken for 44.39999
    return java.math.BigDecimal.valueOf(grams)
        .round(new java.math.MathContext(3, java.math.RoundingMode.DOWN))
        .doubleValue();
  }

  private static String loads(List<PointLimit> points) {
    return Arrays.stream(Direction.values())
        .map(
            direction ->
                listed(
                    points.stream()
                        .filter(p -> p.direction() == direction)
                        .map(p -> Numbers.plain(p.loadKilograms()))
                        .distinct()
                        .toList(),
                    direction))
        .filter(words -> !words.isEmpty())
        .collect(Collectors.joining(" and "));
  }

  private static String listed(List<String> loads, Direction direction) {
    return loads.isEmpty() ? "" : String.join(", ", loads) + " kg " + direction.word();
  }

  private String words(CalibrationLevel level, double figureGrams, double accept) {
    List<PointLimit> at = new ArrayList<>();
    tested.forEach(i -> at.add(errors.points().get(i)));
    return String.format(
        Locale.ROOT,
        "If every kit is tested %s and ships only when it reads within ±%s g at %s, then any kit that ships reads within ±%s g at all loads of the study with a probability of %s %% or more, %s.",
        level.description(),
        Numbers.plain(accept),
        loads(at),
        Numbers.plain(figureGrams),
        Numbers.percent(options.conformity()),
        at.size() == errors.points().size()
            ? "whichever lot it comes from"
            : "as long as production is like the one studied, because the loads that are not tested are foretold from the tested ones");
  }
}
