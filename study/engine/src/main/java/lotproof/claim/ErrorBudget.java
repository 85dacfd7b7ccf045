package lotproof.claim;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.SideAllowance;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.study.CalibrationLevel;
import lotproof.study.Study;

/**
 * Which contributor costs how many grams at the worst load: the bound there, minus the bound with
 * that contributor alone taken away. Costs of spreads do not add up to the bound, because spreads
 * add in squares; shifts and guard bands are what they are.
 *
 * <p>At level none the spread of cells, and of boards, is parted into sensitivity (or gain), which
 * is proportional to the load, and the rest, the shape of the curve. After a calibration the
 * proportional part is gone.
 */
final class ErrorBudget {
  private final Study study;
  private final FigureCalculator.Computed.Found found;
  private final int worst;

  ErrorBudget(Study study, FigureCalculator.Computed.Found found) {
    this.study = study;
    this.found = found;
    this.worst = found.outcome().worstPoint();
  }

  List<BudgetLine> lines() {
    List<BudgetLine> lines = new ArrayList<>();
    spreads(lines);
    double weight = found.evidence().judged().weight(worst);
    LevelOutcome.PointLimit point = found.outcome().points().get(worst);
    double withoutMean = found.model().boundWithoutMean(worst, content(), confidence());
    lines.add(
        new BudgetLine(
            new Contributor.Shift(),
            Math.abs(point.meanGrams()) / weight,
            0,
            Math.max(0, point.figureGrams() - withoutMean)));
    GuardBands guards = found.evidence().guards();
    guards.grams().forEach((kind, grams) -> added(lines, new Contributor.Guard(kind), grams));
    for (SideAllowance side : guards.sides()) {
      added(lines, new Contributor.Side(side.test().effect()), side.grams());
    }
    return lines;
  }

  private double content() {
    return study.claim().content();
  }

  private double confidence() {
    return study.claim().confidence();
  }

  private static void added(List<BudgetLine> lines, Contributor contributor, double grams) {
    if (grams > 0) {
      lines.add(new BudgetLine(contributor, grams, 0, grams));
    }
  }

  private void spreads(List<BudgetLine> lines) {
    ErrorModel model = found.model();
    List<ErrorModel.Source> sources = model.sources(worst);
    double total = sources.stream().mapToDouble(ErrorModel.Source::variance).sum();
    Optional<Map<Role, double[]>> proportional = proportional();
    for (ErrorModel.Source source : sources) {
      if (source.variance() == 0 && source.fitted() > 0) {
        continue; // not part of what the claim is about
      }
      double has = source.fitted() > 0 ? source.variance() / source.fitted() : 1;
      double[] parted =
          proportional
              .map(parts -> parts.getOrDefault(source.role(), new double[0]))
              .orElse(new double[0]);
      if (parted.length == 0) {
        lines.add(line(source, Contributor.Part.WHOLE, source.variance(), total, 0));
      } else {
        double sum = parted[0] + parted[1];
        // what stays when the other part is taken away
        double shape = sum > 0 ? Math.min(1, parted[1] / sum) : 1;
        lines.add(line(source, Contributor.Part.PROPORTIONAL, has * parted[0], total, shape));
        lines.add(line(source, Contributor.Part.SHAPE, has * parted[1], total, 1 - shape));
      }
    }
  }

  /**
   * One spread.
   *
   * @param left share of the source's variance that stays without this contributor
   */
  private BudgetLine line(
      ErrorModel.Source source, Contributor.Part part, double variance, double total, double left) {
    double bound = found.model().boundAt(worst, source::equals, left, content(), confidence());
    double full = found.outcome().points().get(worst).figureGrams();
    return new BudgetLine(
        new Contributor.Spread(source.role(), source.title(), part),
        Math.sqrt(variance),
        total > 0 ? variance / total : 0,
        Math.max(0, full - bound));
  }

  /**
   * At level none, variances of the proportional part and of the rest at the worst load, by role;
   * empty elsewhere or where one of the two cannot be fitted. The proportional part of a curve is
   * its error at the largest load, scaled down to the load.
   */
  private Optional<Map<Role, double[]>> proportional() {
    if (!(found.evidence().level() instanceof CalibrationLevel.None) || found.model().isSum()) {
      return Optional.empty();
    }
    ErrorsInClaimForm judged = found.evidence().judged();
    double load = judged.place(worst).loadKilograms();
    double factor = judged.form().sign() / judged.weight(worst);
    double[] straight =
        judged.curves().stream().mapToDouble(curve -> factor * load * slope(curve)).toArray();
    double[] rest = judged.at(worst);
    for (int i = 0; i < rest.length; i++) {
      rest[i] -= straight[i];
    }
    Optional<ComponentsFit> one = fit(straight);
    Optional<ComponentsFit> two = fit(rest);
    if (one.isEmpty() || two.isEmpty()) {
      return Optional.empty();
    }
    Map<Role, double[]> parts = new EnumMap<>(Role.class);
    for (Role role : List.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT)) {
      if (found.evidence().plan().roles().contains(role)) {
        parts.put(
            role, new double[] {one.get().variance(role.key()), two.get().variance(role.key())});
      }
    }
    return Optional.of(parts);
  }

  /** Least-squares slope through zero of the rising errors, grams for each kilogram. */
  private static double slope(ErrorCurve curve) {
    double products = 0;
    double squares = 0;
    for (ErrorCurve.Point point : curve.points()) {
      if (point.direction() == Direction.RISING) {
        products += point.loadKilograms() * point.errorGrams();
        squares += point.loadKilograms() * point.loadKilograms();
      }
    }
    return squares > 0 ? products / squares : 0;
  }

  private Optional<ComponentsFit> fit(double[] values) {
    FitOutcome outcome =
        found
            .evidence()
            .plan()
            .fit(
                found.evidence().largest().withValues(values),
                FitOptions.REML.from(found.model().fit(worst, 0)));
    return outcome instanceof ComponentsFit fit ? Optional.of(fit) : Optional.empty();
  }
}
