package lotproof.claim.upkeep;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.upkeep.ProductionTest.CannotProtect;
import lotproof.claim.upkeep.ProductionTest.Expected;
import lotproof.claim.upkeep.ProductionTest.Finished;
import lotproof.claim.upkeep.ProductionTest.LoadGuard;
import lotproof.claim.upkeep.ProductionTest.Why;
import lotproof.statistics.calibration.StraightLine;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Risks;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.NormalTolerance;

/**
 * Computes the limit of a production test of finished kits, or of units alone on the partner that
 * the study had them on.
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
 *   <li>A load that is not tested is predicted from a tested one: E_j = c + b E_t + r, by least
 *       squares over the study's runs. It allows (A - G - |c| - q) / |b| with q^2 = (k s)^2 + (z u
 *       b)^2 + (z repeat)^2; k the two-sided normal tolerance factor for the content p_j at the
 *       study's confidence and the number of kits that share no unit, or, if larger, the largest
 *       |r| of the study instead of k s. The tested load that allows most is used.
 *   <li>A figure that holds for a change of temperature between calibration and use, with a test at
 *       one temperature: no load is tested in this sense, and each is predicted from the readings
 *       of the same runs with their own calibration.
 *   <li>Errors are those of the claim's form, divided by its weight at the load. Where one side
 *       counts, guard band, k and z are one-sided, c counts with its sign, and a falling line (b
 *       below 0) tells nothing of that side, so b = 0 is taken.
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
final class FinishedTestCalculator {
  private final ProductionReadings errors;
  private final LimitOptions options;
  private final double confidence;
  private final double addedGrams;
  private final double room;
  private final List<Integer> tested;
  private final double perLoad;

  private FinishedTestCalculator(
      ProductionReadings errors,
      LimitOptions options,
      double confidence,
      double figureGrams,
      double addedGrams) {
    this.errors = errors;
    this.options = options;
    this.confidence = confidence;
    this.addedGrams = addedGrams;
    this.room = figureGrams - addedGrams;
    this.tested = errors.tested(options);
    this.perLoad = 1 - (1 - options.conformity()) / errors.points().size();
  }

  /**
   * The test of one calibration level.
   *
   * @param confidence of the study
   * @param figureGrams the figure to protect
   * @param addedGrams what the figure adds for any kit
   * @param ofRuns whether the runs of the study were of what is tested
   */
  static ProductionTest of(
      ProductionReadings errors,
      LimitOptions options,
      double confidence,
      double figureGrams,
      double addedGrams,
      boolean ofRuns) {
    FinishedTestCalculator calculator =
        new FinishedTestCalculator(errors, options, confidence, figureGrams, addedGrams);
    if (calculator.tested.isEmpty()) {
      return new CannotProtect(
          new Why.NoTestedLoad(
              errors.points().stream().map(PointLimit::loadKilograms).distinct().toList()));
    }
    return calculator.room > 0
        ? calculator.limit(figureGrams, ofRuns)
        : new CannotProtect(new Why.NothingLeft(addedGrams));
  }

  private ProductionTest limit(double figureGrams, boolean ofRuns) {
    List<LoadGuard> guards =
        IntStream.range(0, errors.points().size())
            .mapToObj(
                i -> errors.sameReading() && tested.contains(i) ? testedLoad(i) : predicted(i))
            .toList();
    int governing =
        IntStream.range(0, guards.size())
            .boxed()
            .min(Comparator.comparingDouble(i -> guards.get(i).allowsGrams()))
            .orElseThrow();
    LoadGuard worst = guards.get(governing);
    if (!(worst.allowsGrams() > 0)) {
      return new CannotProtect(
          new Why.NoRoom(
              worst.loadKilograms(),
              worst.direction(),
              Math.max(0, errors.form().counted(worst.offsetGrams())),
              addedGrams,
              worst.uncertaintyGrams(),
              !worst.tested()));
    }
    double accept = ProductionReadings.roundedInward(worst.allowsGrams());
    int strictest = strictest(accept);
    Risks risks = risks(strictest, accept);
    return new Finished(
        accept,
        worst.allowsGrams(),
        figureGrams - accept,
        addedGrams,
        tester(strictest),
        guards,
        governing,
        tested,
        new Expected(
            passing(
                mean(strictest),
                Math.hypot(unitSd(strictest), tester(strictest)),
                errors.zone(accept)),
            ofRuns ? passed(accept) : 0,
            ofRuns ? errors.curves().size() : 0,
            risks.consumer(),
            risks.producer()));
  }

  /** Mean of what the test reads at a point. */
  private double mean(int at) {
    return errors.sameReading()
        ? errors.points().get(at).meanGrams()
        : Summary.mean(errors.readingsAt(at));
  }

  /** Standard deviation of it without the repeatability of readings. */
  private double unitSd(int at) {
    double total =
        errors.sameReading()
            ? errors.points().get(at).totalStandardDeviationGrams()
            : Summary.sd(errors.readingsAt(at));
    double repeat = errors.sameReading() ? errors.repeat(at) : 0;
    return Math.sqrt(Math.max(0, square(total) - square(repeat)));
  }

  /**
   * Risks at a tested load. Where the reading is not the error that the figure speaks of, both are
   * taken as normal together, and the reading is stretched so that it is the error and something
   * independent of it.
   */
  private Risks risks(int at, double accept) {
    if (errors.sameReading()) {
      double sd = unitSd(at);
      return sd > 0
          ? Conformity.risks(mean(at), sd, uncertainty(at), errors.zone(room), errors.zone(accept))
          : new Risks(0, 0);
    }
    double[] x = errors.readingsAt(at);
    double[] y = errors.errorsAt(at);
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double readingSd = Math.hypot(Summary.sd(x), tester(at));
    double errorSd = Summary.sd(y);
    double covariance = StraightLine.slope(x, y) * square(Summary.sd(x));
    if (!(errorSd > 0 && readingSd > 0)) {
      return new Risks(0, 0);
    }
    if (!(covariance > 1e-6 * errorSd * readingSd)) {
      double passes = passing(meanX, readingSd, errors.zone(accept));
      double keeps = passing(meanY, errorSd, errors.zone(room));
      return new Risks(passes * (1 - keeps), (1 - passes) * keeps);
    }
    double stretch = square(errorSd) / covariance;
    double rest = square(stretch * readingSd) - square(errorSd);
    double centre = meanY - stretch * meanX;
    Zone accepted =
        errors.form().twoSided()
            ? new Zone(centre - stretch * accept, centre + stretch * accept)
            : Zone.atMost(centre + stretch * accept);
    return Conformity.risks(
        meanY, errorSd, Math.sqrt(Math.max(1e-12, rest)), errors.zone(room), accepted);
  }

  private LoadGuard testedLoad(int at) {
    PointLimit point = errors.points().get(at);
    double u = uncertainty(at);
    double guard;
    try {
      guard = Conformity.guardBand(u, perLoad, errors.zone(room));
    } catch (IllegalArgumentException noValueConforms) {
      guard = room;
    }
    return new LoadGuard(
        point.loadKilograms(), point.direction(), OptionalInt.empty(), 0, 1, guard, room - guard);
  }

  private LoadGuard predicted(int at) {
    return tested.stream()
        .map(from -> predicted(at, from))
        .max(Comparator.comparingDouble(LoadGuard::allowsGrams))
        .orElseThrow();
  }

  private LoadGuard predicted(int at, int from) {
    double[] x = errors.readingsAt(from);
    double[] y = errors.errorsAt(at);
    double fitted = StraightLine.slope(x, y);
    double slope = errors.form().twoSided() ? fitted : Math.max(0, fitted);
    double offset = Summary.mean(y) - slope * Summary.mean(x);
    double[] residuals =
        IntStream.range(0, x.length).mapToDouble(i -> y[i] - offset - slope * x[i]).toArray();
    double allowance =
        Math.sqrt(
            square(unexplained(residuals))
                + square(errors.quantile(perLoad) * tester(from) * slope)
                + square(errors.quantile(perLoad) * errors.repeat(at)));
    double left = room - errors.form().counted(offset) - allowance;
    // with zero slope the test load has no bearing on this load
    double allows = left <= 0 ? left : Math.min(room, left / Math.max(1e-12, Math.abs(slope)));
    PointLimit point = errors.points().get(at);
    return new LoadGuard(
        point.loadKilograms(),
        point.direction(),
        OptionalInt.of(from),
        offset,
        slope,
        allowance,
        allows);
  }

  /** What the tested load may leave of another one. */
  private double unexplained(double[] residuals) {
    double sd = Math.sqrt(Arrays.stream(residuals).map(r -> r * r).sum() / (residuals.length - 2));
    double largest = Arrays.stream(residuals).map(errors.form()::counted).max().orElseThrow();
    int n = Math.max(3, errors.disjointKits());
    double k =
        errors.form().twoSided()
            ? NormalTolerance.twoSidedFactor(n, perLoad, confidence)
            : NormalTolerance.oneSidedFactor(n, perLoad, confidence);
    return Math.max(k * sd, largest);
  }

  /** The tested point at which the study's production fails the limit most often. */
  private int strictest(double accept) {
    return tested.stream()
        .min(
            Comparator.comparingDouble(
                i -> passing(mean(i), Math.hypot(unitSd(i), tester(i)), errors.zone(accept))))
        .orElseThrow();
  }

  private static double passing(double mean, double sd, Zone zone) {
    return sd > 0 ? Conformity.probability(mean, sd, zone) : zone.holds(mean) ? 1 : 0;
  }

  private int passed(double accept) {
    return (int)
        Arrays.stream(errors.readings())
            .filter(row -> tested.stream().allMatch(i -> errors.form().counted(row[i]) <= accept))
            .count();
  }

  private double tester(int at) {
    return errors.testerUncertainty(options, at);
  }

  private double uncertainty(int at) {
    return Math.hypot(tester(at), errors.repeat(at));
  }

  private static double square(double value) {
    return value * value;
  }
}
