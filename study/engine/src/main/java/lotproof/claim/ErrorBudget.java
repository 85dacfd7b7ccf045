package lotproof.claim;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.study.CalibrationLevel;

/**
 * Which contributor costs how many grams at the worst load: the bound there, minus the bound with
 * that contributor alone taken away. Costs of spreads do not add up to the bound, because spreads
 * add in squares; shifts and guard bands are what they are.
 *
 * <p>At level none the spread of cells, and of boards, is parted into sensitivity (or gain), which
 * is proportional to the load, and the rest, the shape of the curve. After a calibration the
 * proportional part is gone.
 */
record ErrorBudget(FigureCalculator.Computed.Found found) {
  List<BudgetLine> lines() {
    List<BudgetLine> lines = new ArrayList<>();
    spreads(lines);
    LevelOutcome.PointLimit point = found.outcome().worst();
    double withoutMean =
        found.model().boundWithoutMean(worst(), evidence().content(), evidence().confidence());
    lines.add(
        new BudgetLine(
            new Contributor.Shift(),
            Math.abs(point.meanGrams()) / evidence().judged().weight(worst()),
            0,
            Math.max(0, point.figureGrams() - withoutMean)));
    GuardBands guards = evidence().guards();
    guards.grams().forEach((kind, grams) -> added(lines, new Contributor.Guard(kind), grams));
    guards
        .sides()
        .forEach(side -> added(lines, new Contributor.Side(side.test().effect()), side.grams()));
    return lines;
  }

  private FigureEvidence evidence() {
    return found.evidence();
  }

  private int worst() {
    return found.outcome().worstPoint();
  }

  private static void added(List<BudgetLine> lines, Contributor contributor, double grams) {
    if (grams > 0) {
      lines.add(new BudgetLine(contributor, grams, 0, grams));
    }
  }

  private void spreads(List<BudgetLine> lines) {
    List<ErrorModel.Source> sources = found.model().sources(worst());
    double total = sources.stream().mapToDouble(ErrorModel.Source::variance).sum();
    Map<Role, double[]> parted = proportional();
    for (ErrorModel.Source source : sources) {
      if (source.variance() == 0 && source.fitted() > 0) {
        continue; // not part of what the claim is about
      }
      double[] parts = parted.get(source.role());
      if (parts == null) {
        lines.add(line(source, Contributor.Part.WHOLE, source.variance(), total, 0));
        continue;
      }
      double has = source.fitted() > 0 ? source.variance() / source.fitted() : 1;
      double sum = parts[0] + parts[1];
      // what stays when the other part is taken away
      double shape = sum > 0 ? Math.min(1, parts[1] / sum) : 1;
      lines.add(line(source, Contributor.Part.PROPORTIONAL, has * parts[0], total, shape));
      lines.add(line(source, Contributor.Part.SHAPE, has * parts[1], total, 1 - shape));
    }
  }

  /**
   * One spread.
   *
   * @param left share of the source's variance that stays without this contributor
   */
  private BudgetLine line(
      ErrorModel.Source source, Contributor.Part part, double variance, double total, double left) {
    double bound =
        found
            .model()
            .boundAt(worst(), source::equals, left, evidence().content(), evidence().confidence());
    return new BudgetLine(
        new Contributor.Spread(source.role(), source.title(), part),
        Math.sqrt(variance),
        total > 0 ? variance / total : 0,
        Math.max(0, found.outcome().worst().figureGrams() - bound));
  }

  /**
   * At level none, variances of the proportional part and of the rest at the worst load, by role;
   * empty elsewhere or where one of the two cannot be fitted. The proportional part of a curve is
   * its error at the largest load, scaled down to the load.
   */
  private Map<Role, double[]> proportional() {
    if (!(evidence().level() instanceof CalibrationLevel.None) || found.model().isSum()) {
      return Map.of();
    }
    ErrorsInClaimForm judged = evidence().judged();
    double factor =
        judged.form().sign() * judged.place(worst()).loadKilograms() / judged.weight(worst());
    double[] straight =
        judged.curves().stream().mapToDouble(curve -> factor * slope(curve)).toArray();
    double[] rest = judged.at(worst());
    for (int i = 0; i < rest.length; i++) {
      rest[i] -= straight[i];
    }
    Map<Role, double[]> parts = new EnumMap<>(Role.class);
    if (fit(straight) instanceof ComponentsFit one && fit(rest) instanceof ComponentsFit two) {
      for (Role role : List.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT)) {
        if (evidence().plan().roles().contains(role)) {
          parts.put(
              role, new double[] {one.variance(role.component()), two.variance(role.component())});
        }
      }
    }
    return parts;
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

  private FitOutcome fit(double[] values) {
    return evidence()
        .plan()
        .fit(
            evidence().largest().withValues(values),
            FitOptions.REML.from(found.model().fit(worst(), 0)));
  }
}
