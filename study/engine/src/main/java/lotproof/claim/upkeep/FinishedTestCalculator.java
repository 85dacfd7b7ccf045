package lotproof.claim.upkeep;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.upkeep.ProductionTest.Expected;
import lotproof.claim.upkeep.ProductionTest.Finished;
import lotproof.claim.upkeep.ProductionTest.LoadGuard;
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
 *
 * @param room the figure less what it adds for any kit, above 0
 * @param tested points that production reads, at least one
 */
record FinishedTestCalculator(
    PlannedTest test,
    ProductionReadings errors,
    double confidence,
    double room,
    List<Integer> tested) {
  /**
   * The test of one calibration level.
   *
   * @param ofRuns whether the runs of the study were of what is tested
   */
  static ProductionTest of(PlannedTest test, double confidence, boolean ofRuns) {
    return test.blocked()
        .<ProductionTest>map(why -> why)
        .orElseGet(
            () ->
                new FinishedTestCalculator(
                        test, test.errors(), confidence, test.roomGrams(), test.tested())
                    .limit(ofRuns));
  }

  private ProductionTest limit(boolean ofRuns) {
    List<LoadGuard> guards =
        IntStream.range(0, errors.points().size())
            .mapToObj(
                i -> errors.sameReading() && tested.contains(i) ? testedLoad(i) : predicted(i))
            .toList();
    LoadGuard worst =
        guards.stream().min(Comparator.comparingDouble(LoadGuard::allowsGrams)).orElseThrow();
    if (!(worst.allowsGrams() > 0)) {
      return test.noRoom(
          guards.indexOf(worst),
          Math.max(0, errors.form().counted(worst.offsetGrams())),
          worst.uncertaintyGrams(),
          !worst.tested());
    }
    double accept = ProductionReadings.roundedInward(worst.allowsGrams());
    int strictest =
        tested.stream().min(Comparator.comparingDouble(i -> passing(i, accept))).orElseThrow();
    Risks risks = risks(strictest, accept);
    return new Finished(
        accept,
        worst.allowsGrams(),
        test.figureGrams() - accept,
        test.addedGrams(),
        test.tester(strictest),
        guards,
        guards.indexOf(worst),
        tested,
        new Expected(
            passing(strictest, accept),
            ofRuns ? passed(accept) : 0,
            ofRuns ? errors.errors().curves().size() : 0,
            risks.consumer(),
            risks.producer()));
  }

  /** Mean of what the test reads at a point. */
  private double mean(int at) {
    return errors.sameReading() ? errors.mean(at) : Summary.mean(errors.readings().at(at));
  }

  /** Standard deviation of it without the repeatability of readings. */
  private double unitSd(int at) {
    if (!errors.sameReading()) {
      return Summary.sd(errors.readings().at(at));
    }
    double total = errors.total(at);
    double repeat = errors.repeat(at);
    return Math.sqrt(Math.max(0, total * total - repeat * repeat));
  }

  /** Share of the study's production whose reading at a tested point is within the limit. */
  private double passing(int at, double accept) {
    double sd = Math.hypot(unitSd(at), test.tester(at));
    return within(mean(at), sd, errors.zone(accept));
  }

  private static double within(double mean, double sd, Zone zone) {
    return sd > 0 ? Conformity.probability(mean, sd, zone) : zone.holds(mean) ? 1 : 0;
  }

  private int passed(double accept) {
    double[][] readings = errors.readings().byPoint();
    return (int)
        IntStream.range(0, errors.errors().curves().size())
            .filter(
                run ->
                    tested.stream()
                        .allMatch(i -> errors.form().counted(readings[i][run]) <= accept))
            .count();
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
    double[] x = errors.readings().at(at);
    double[] y = errors.errors().at(at);
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double sdX = Summary.sd(x);
    double readingSd = Math.hypot(sdX, test.tester(at));
    double errorSd = Summary.sd(y);
    double covariance = StraightLine.slope(x, y) * sdX * sdX;
    if (!(errorSd > 0 && readingSd > 0)) {
      return new Risks(0, 0);
    }
    if (!(covariance > 1e-6 * errorSd * readingSd)) {
      double passes = within(meanX, readingSd, errors.zone(accept));
      double keeps = within(meanY, errorSd, errors.zone(room));
      return new Risks(passes * (1 - keeps), (1 - passes) * keeps);
    }
    double stretch = errorSd * errorSd / covariance;
    double rest = stretch * readingSd * stretch * readingSd - errorSd * errorSd;
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
    double guard;
    try {
      guard = Conformity.guardBand(uncertainty(at), test.perLoad(), errors.zone(room));
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
    double[] x = errors.readings().at(from);
    double[] y = errors.errors().at(at);
    double fitted = StraightLine.slope(x, y);
    double slope = errors.form().twoSided() ? fitted : Math.max(0, fitted);
    double offset = Summary.mean(y) - slope * Summary.mean(x);
    double[] residuals =
        IntStream.range(0, x.length).mapToDouble(i -> y[i] - offset - slope * x[i]).toArray();
    double z = test.quantile();
    double ofReadings = z * Math.hypot(test.tester(from) * slope, errors.repeat(at));
    double allowance = Math.hypot(unexplained(residuals), ofReadings);
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
    double perLoad = test.perLoad();
    double k =
        errors.form().twoSided()
            ? NormalTolerance.twoSidedFactor(n, perLoad, confidence)
            : NormalTolerance.oneSidedFactor(n, perLoad, confidence);
    return Math.max(k * sd, largest);
  }

  private double uncertainty(int at) {
    return Math.hypot(test.tester(at), errors.repeat(at));
  }
}
