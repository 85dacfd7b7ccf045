package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
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
 */
final class JigTestCalculator {
  private static final double SMALLEST_SHARE = 1e-9;

  private final Study study;
  private final boolean factoryFactor;
  private final ProductionReadings errors;
  private final LimitOptions options;
  private final CurveComponents curves;
  private final List<UnitKind> kinds;
  private final Map<UnitKind, double[][]> covariances;
  private final List<Integer> tested;

  private JigTestCalculator(
      Study study,
      boolean factoryFactor,
      ProductionReadings errors,
      LimitOptions options,
      CurveComponents curves) {
    this.study = study;
    this.factoryFactor = factoryFactor;
    this.errors = errors;
    this.options = options;
    this.curves = curves;
    this.kinds = kinds(study.claim().subject());
    this.tested = errors.tested(options);
    this.covariances = new EnumMap<>(UnitKind.class);
    covariances.put(UnitKind.CELL, sum(Role.CELL, Role.CELL_LOT));
    covariances.put(UnitKind.BOARD, sum(Role.BOARD, Role.BOARD_LOT));
  }

  private static List<UnitKind> kinds(ClaimRequest.Subject subject) {
    return switch (subject) {
      case KIT -> List.of(UnitKind.values());
      case CELL -> List.of(UnitKind.CELL);
      case BOARD -> List.of(UnitKind.BOARD);
    };
  }

  static ProductionTest of(
      Study study,
      boolean factoryFactor,
      ProductionReadings errors,
      LimitOptions options,
      double figureGrams,
      double addedGrams) {
    MeasuredValues labelled =
        new StudySpread(study)
            .errors(
                errors.curves(), errors.curves().stream().map(ErrorCurve::largestGrams).toList());
    FactorPlan plan = FactorPlan.of(labelled);
    if (!plan.roles().contains(Role.CELL) || !plan.roles().contains(Role.BOARD)) {
      return new CannotProtect(new Why.CellsAndBoardsMixed());
    }
    List<Integer> tested = errors.tested(options);
    if (tested.isEmpty()) {
      return new CannotProtect(
          new Why.NoTestedLoad(
              errors.points().stream().map(PointLimit::loadKilograms).distinct().toList()));
    }
    FitOutcome outcome =
        CurveComponents.estimate(
            columns(errors, tested), plan.factors(labelled), near(errors, plan));
    return outcome instanceof CurveComponents curves
        ? new JigTestCalculator(study, factoryFactor, errors, options, curves)
            .limits(figureGrams, addedGrams)
        : new CannotProtect(new Why.NotEstimable(((NotEstimable) outcome).reason()));
  }

  /** The variances behind the figure, where the test reads the very errors that it speaks of. */
  private static List<double[]> near(ProductionReadings errors, FactorPlan plan) {
    boolean same =
        errors.sameReading()
            && errors.points().stream()
                .allMatch(
                    point ->
                        point.contributions().size() == plan.roles().size() + 1
                            && point.contributions().stream()
                                .map(Contribution::role)
                                .limit(plan.roles().size())
                                .toList()
                                .equals(plan.roles()));
    if (!same) {
      return List.of();
    }
    return IntStream.range(0, errors.points().size())
        .mapToObj(
            at ->
                errors.points().get(at).contributions().stream()
                    .mapToDouble(c -> square(c.standardDeviationGrams() / errors.weight(at)))
                    .toArray())
        .toList();
  }

  /** The errors at all loads, and behind them the readings of the test where they differ. */
  private static double[][] columns(ProductionReadings errors, List<Integer> tested) {
    if (errors.sameReading()) {
      return errors.errors();
    }
    double[][] grams = errors.errors();
    double[][] readings = errors.readings();
    return IntStream.range(0, grams.length)
        .mapToObj(
            i ->
                DoubleStream.concat(
                        Arrays.stream(grams[i]), tested.stream().mapToDouble(t -> readings[i][t]))
                    .toArray())
        .toArray(double[][]::new);
  }

  /** Where the readings of a tested load stand among the columns. */
  private int column(int at) {
    return errors.sameReading() ? at : errors.points().size() + tested.indexOf(at);
  }

  private double[][] sum(Role... roles) {
    int n = curves.means().length;
    double[][] total = new double[n][n];
    for (Role role : roles) {
      if (curves.componentNames().contains(role.key())) {
        double[][] one = curves.covariance(role.key());
        for (int i = 0; i < n; i++) {
          for (int j = 0; j < n; j++) {
            total[i][j] += one[i][j];
          }
        }
      }
    }
    return total;
  }

  /** How the part of a kind at one load follows from that at a tested load. */
  private record Following(int from, double slope, double leftVariance) {}

  private Following following(UnitKind kind, int at) {
    double[][] v = cov(kind);
    if (errors.sameReading() && tested.contains(at)) {
      return new Following(at, 1, 0);
    }
    return tested.stream()
        .map(
            from -> {
              int by = column(from);
              boolean known = v[by][by] > SMALLEST_SHARE * Math.max(v[at][at], 1e-12);
              double slope = known ? v[at][by] / v[by][by] : 0;
              double told = errors.form().twoSided() ? slope : Math.max(0, slope);
              return new Following(from, told, Math.max(0, v[at][at] - told * v[at][by]));
            })
        .min(Comparator.comparingDouble(Following::leftVariance))
        .orElseThrow();
  }

  private double[][] cov(UnitKind kind) {
    return Objects.requireNonNull(covariances.get(kind));
  }

  /** Standard deviation of a kind's part of the reading at a tested load. */
  private double sd(UnitKind kind, int at) {
    int by = column(at);
    return Math.sqrt(Math.max(0, cov(kind)[by][by]));
  }

  /** What a load takes, and the limits in standard deviations that it allows. */
  private record LoadRoom(
      int at, List<Integer> from, double allowanceGrams, double leftGrams, double factor) {}

  /** Standard deviation of a kind's part as the jig sees it. */
  private double seen(UnitKind kind, int at) {
    return Math.hypot(sd(kind, at), jig(at));
  }

  private LoadRoom room(int at, double figureGrams, double addedGrams) {
    double perLoad = 1 - (1 - options.conformity()) / errors.points().size();
    double rest = errors.sd(at, Role.PAIR, Role.RESIDUAL);
    List<Integer> from = new ArrayList<>();
    double variance = rest * rest;
    double spread = 0;
    for (UnitKind kind : kinds) {
      Following following = following(kind, at);
      from.add(following.from());
      variance += following.leftVariance() + square(following.slope() * jig(following.from()));
      spread += Math.abs(following.slope()) * seen(kind, following.from());
    }
    double allowance = errors.quantile(perLoad) * Math.sqrt(variance);
    double left = figureGrams - addedGrams - errors.form().counted(curves.means()[at]) - allowance;
    double factor = left <= 0 ? left : left / Math.max(spread, 1e-12);
    return new LoadRoom(at, from, allowance, left, factor);
  }

  private double jig(int at) {
    return errors.testerUncertainty(options, at);
  }

  private ProductionTest limits(double figureGrams, double addedGrams) {
    List<LoadRoom> rooms =
        IntStream.range(0, errors.points().size())
            .mapToObj(at -> room(at, figureGrams, addedGrams))
            .toList();
    LoadRoom governing =
        rooms.stream().min(Comparator.comparingDouble(LoadRoom::factor)).orElseThrow();
    PointLimit point = errors.points().get(governing.at());
    if (!(governing.leftGrams() > 0)) {
      return new CannotProtect(
          new Why.NoRoom(
              point.loadKilograms(),
              point.direction(),
              curves.means()[governing.at()],
              addedGrams,
              governing.allowanceGrams(),
              false));
    }
    List<UnitLimit> limits = new ArrayList<>();
    for (UnitKind kind : kinds) {
      for (int at : tested) {
        double factor =
            rooms.stream()
                .filter(room -> room.from().contains(at))
                .mapToDouble(LoadRoom::factor)
                .min()
                .orElse(governing.factor());
        if (sd(kind, at) > SMALLEST_SHARE * point.totalStandardDeviationGrams()) {
          limits.add(limit(kind, at, factor));
        }
      }
    }
    double yield =
        kinds.stream()
            .mapToDouble(
                kind ->
                    limits.stream()
                        .filter(l -> l.kind() == kind)
                        .mapToDouble(UnitLimit::yieldFraction)
                        .min()
                        .orElse(1))
            .reduce(1, (a, b) -> a * b);
    return new OnJig(
        governing.factor(),
        limits,
        point.loadKilograms(),
        point.direction(),
        governing.allowanceGrams(),
        addedGrams,
        yield);
  }

  private UnitLimit limit(UnitKind kind, int at, double factor) {
    PointLimit point = errors.points().get(at);
    double sd = sd(kind, at);
    double accept = ProductionReadings.roundedInward(factor * seen(kind, at));
    double u = jig(at);
    double band = Conformity.guardBand(u, options.conformity());
    Risks risks = Conformity.risks(0, sd, u, errors.zone(accept + band), errors.zone(accept));
    boolean signal = kind == UnitKind.CELL && factoryFactor;
    double perGram =
        study.kit().defaultFactorCountsPerKilogram()
            / study.kit().countsPerMillivoltPerVolt()
            / 1000;
    double mean = errors.form().sign() * errors.weight(at) * curves.means()[column(at)];
    double acceptGrams =
        ProductionReadings.roundedInward(errors.weight(at) * factor * seen(kind, at));
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

  private static double square(double value) {
    return value * value;
  }
}
