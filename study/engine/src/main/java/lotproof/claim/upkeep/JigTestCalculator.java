package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.upkeep.ProductionTest.CannotProtect;
import lotproof.claim.upkeep.ProductionTest.OnJig;
import lotproof.claim.upkeep.ProductionTest.UnitLimit;
import lotproof.claim.upkeep.ProductionTest.Why;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Risks;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * Computes limits for cells and boards that are tested alone, on a jig with a known partner. A
 * claim for cells or boards alone needs them of that kind only; the other has no part in it.
 *
 * <p>With sigma_c and sigma_b the standard deviations of the cells' and the boards' part of the
 * error, lots included, and jig the standard uncertainty of the jig, the jig sees s_c^2 = sigma_c^2
 * + jig^2 and s_b^2 = sigma_b^2 + jig^2. A cell passes when its part is within f s_c of the study's
 * mean at a tested load, and a board within f s_b, so that neither is rejected more often than the
 * other. The sizes are added, because any cell may meet any board:
 *
 * <pre>
 *   |mean_j| + f (|b_c| s_c + |b_b| s_b) + z q_j + G = A
 *   q_j^2 = pair^2 + repeat^2 + left_c^2 + left_b^2 + (b_c jig)^2 + (b_b jig)^2
 * </pre>
 *
 * <p>b and left are slope and remaining standard deviation of the part at load j on the part at the
 * tested load that predicts it best, from the covariances of each source over the loads (1 and 0 at
 * a tested load); jig is that of the reading at the tested load; z the normal quantile for 1 - (1 -
 * p) / m at m loads, two-sided. The f of a tested load is the smallest over the loads that are
 * predicted from it. Where the figure holds for a change of temperature between calibration and
 * use, the jig tests at one temperature, and all loads are predicted from those readings of the
 * same runs. Errors are those of the claim's form; where one side counts, so does the mean, and a
 * negative b tells nothing. A construction on the estimated components: it trusts them, while the
 * test of finished kits measures each kit.
 *
 * @param factoryFactor whether the level is without calibration
 * @param curves model of the errors at all loads, and behind them of the readings at tested loads
 *     where they differ
 * @param covariances of each kind's part over its columns, of the kinds that the claim needs
 */
record JigTestCalculator(
    PlannedTest test,
    ProductionReadings errors,
    Study study,
    boolean factoryFactor,
    CurveComponents curves,
    Map<UnitKind, double[][]> covariances) {
  private static final double SMALLEST_SHARE = 1e-9;

  static ProductionTest of(PlannedTest test, Study study, boolean factoryFactor) {
    ProductionReadings errors = test.errors();
    ErrorsInClaimForm all = errors.errors();
    MeasuredValues labelled =
        new StudySpread(study)
            .errors(all.curves(), all.curves().stream().map(ErrorCurve::largestGrams).toList());
    FactorPlan plan = FactorPlan.of(labelled);
    if (!plan.roles().containsAll(List.of(Role.CELL, Role.BOARD))) {
      return new CannotProtect(new Why.CellsAndBoardsMixed());
    }
    Optional<CannotProtect> blocked = test.blocked();
    if (blocked.isPresent()) {
      return blocked.get();
    }
    List<Integer> tested = test.tested();
    List<double[]> columns = new ArrayList<>(List.of(all.byPoint()));
    if (!errors.sameReading()) {
      tested.forEach(at -> columns.add(errors.readings().at(at)));
    }
    double[][] byRun =
        new Array2DRowRealMatrix(columns.toArray(double[][]::new)).transpose().getData();
    FitOutcome outcome = CurveComponents.estimate(byRun, plan.factors(labelled), List.of());
    if (!(outcome instanceof CurveComponents curves)) {
      return new CannotProtect(new Why.NotEstimable(((NotEstimable) outcome).reason()));
    }
    Map<UnitKind, double[][]> covariances = new EnumMap<>(UnitKind.class);
    if (study.claim().subject() != ClaimRequest.Subject.BOARD) {
      covariances.put(UnitKind.CELL, sum(curves, Role.OF_CELLS));
    }
    if (study.claim().subject() != ClaimRequest.Subject.CELL) {
      covariances.put(UnitKind.BOARD, sum(curves, Role.OF_BOARDS));
    }
    return new JigTestCalculator(test, errors, study, factoryFactor, curves, covariances)
        .limits(tested);
  }

  private static double[][] sum(CurveComponents curves, Set<Role> roles) {
    int n = curves.means().length;
    RealMatrix total = new Array2DRowRealMatrix(n, n);
    for (Role role : roles) {
      if (curves.components().contains(role.component())) {
        total = total.add(new Array2DRowRealMatrix(curves.covariance(role.component())));
      }
    }
    return total.getData();
  }

  /** Where the readings of a tested load stand among the columns. */
  private int column(List<Integer> tested, int at) {
    return errors.sameReading() ? at : errors.points().size() + tested.indexOf(at);
  }

  /** How the part of a kind at one load follows from that at a tested load. */
  private record Following(int from, double slope, double leftVariance) {}

  private Following following(double[][] v, List<Integer> tested, int at) {
    if (errors.sameReading() && tested.contains(at)) {
      return new Following(at, 1, 0);
    }
    return tested.stream()
        .map(
            from -> {
              int by = column(tested, from);
              boolean known = v[by][by] > SMALLEST_SHARE * Math.max(v[at][at], 1e-12);
              double slope = known ? v[at][by] / v[by][by] : 0;
              double told = errors.form().twoSided() ? slope : Math.max(0, slope);
              return new Following(from, told, Math.max(0, v[at][at] - told * v[at][by]));
            })
        .min(Comparator.comparingDouble(Following::leftVariance))
        .orElseThrow();
  }

  /** Standard deviation of a kind's part of the reading at a tested load. */
  private double sd(double[][] v, List<Integer> tested, int at) {
    int by = column(tested, at);
    return Math.sqrt(Math.max(0, v[by][by]));
  }

  /** What a load takes, and the limits in standard deviations that it allows. */
  private record LoadRoom(
      int at, List<Integer> from, double allowanceGrams, double leftGrams, double factor) {}

  private LoadRoom room(List<Integer> tested, int at) {
    List<Integer> from = new ArrayList<>();
    double variance = Math.pow(errors.sd(at, Role.PAIR, Role.RESIDUAL), 2);
    double spread = 0;
    for (double[][] v : covariances.values()) {
      Following following = following(v, tested, at);
      int by = following.from();
      from.add(by);
      variance += following.leftVariance() + Math.pow(following.slope() * test.tester(by), 2);
      spread += Math.abs(following.slope()) * Math.hypot(sd(v, tested, by), test.tester(by));
    }
    double allowance = test.quantile() * Math.sqrt(variance);
    double left = test.roomGrams() - errors.form().counted(curves.means()[at]) - allowance;
    double factor = left <= 0 ? left : left / Math.max(spread, 1e-12);
    return new LoadRoom(at, from, allowance, left, factor);
  }

  private ProductionTest limits(List<Integer> tested) {
    List<LoadRoom> rooms =
        IntStream.range(0, errors.points().size()).mapToObj(at -> room(tested, at)).toList();
    LoadRoom governing =
        rooms.stream().min(Comparator.comparingDouble(LoadRoom::factor)).orElseThrow();
    PointLimit point = errors.points().get(governing.at());
    if (!(governing.leftGrams() > 0)) {
      return test.noRoom(
          governing.at(), curves.means()[governing.at()], governing.allowanceGrams(), false);
    }
    List<UnitLimit> limits = new ArrayList<>();
    double yield = 1;
    for (UnitKind kind : covariances.keySet()) {
      double ofKind = 1;
      for (int at : tested) {
        double factor =
            rooms.stream()
                .filter(room -> room.from().contains(at))
                .mapToDouble(LoadRoom::factor)
                .min()
                .orElse(governing.factor());
        double sd = sd(Objects.requireNonNull(covariances.get(kind)), tested, at);
        if (sd > SMALLEST_SHARE * errors.total(governing.at())) {
          UnitLimit limit = limit(kind, at, sd, column(tested, at), factor);
          limits.add(limit);
          ofKind = Math.min(ofKind, limit.yieldFraction());
        }
      }
      yield *= ofKind;
    }
    return new OnJig(
        governing.factor(),
        limits,
        point.loadKilograms(),
        point.direction(),
        governing.allowanceGrams(),
        test.addedGrams(),
        yield);
  }

  private UnitLimit limit(UnitKind kind, int at, double sd, int column, double factor) {
    PointLimit point = errors.points().get(at);
    double u = test.tester(at);
    double limit = factor * Math.hypot(sd, u);
    double accept = ProductionReadings.roundedInward(limit);
    double band = Conformity.guardBand(u, test.options().conformity());
    Risks risks = Conformity.risks(0, sd, u, errors.zone(accept + band), errors.zone(accept));
    boolean signal = kind == UnitKind.CELL && factoryFactor;
    double perGram =
        study.kit().defaultFactorCountsPerKilogram()
            / study.kit().countsPerMillivoltPerVolt()
            / 1000;
    double weight = errors.errors().weight(at);
    double mean = errors.form().sign() * weight * curves.means()[column];
    double acceptGrams = ProductionReadings.roundedInward(weight * limit);
    return new UnitLimit(
        kind,
        point.loadKilograms(),
        point.direction(),
        mean,
        acceptGrams,
        signal
            ? OptionalDouble.of((1000 * point.loadKilograms() + mean) * perGram)
            : OptionalDouble.empty(),
        signal ? OptionalDouble.of(acceptGrams * perGram) : OptionalDouble.empty(),
        Conformity.probability(0, Math.hypot(sd, u), errors.zone(accept)),
        risks.consumer(),
        risks.producer());
  }
}
