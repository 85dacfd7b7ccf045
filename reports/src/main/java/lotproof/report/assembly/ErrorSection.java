package lotproof.report.assembly;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.claim.Analysis;
import lotproof.claim.KitErrors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/** Error over load at each calibration level, and which source costs how much at each load. */
final class ErrorSection {
  /** More lines than this make one grey area, on paper as on a screen. */
  private static final int MOST_CURVES = 400;

  private ErrorSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    ClaimRequest.Subject subject = result.study().claim().subject();
    List<LevelClaim> claims = result.asDecided().claims();
    for (int i = 0; i < claims.size(); i++) {
      LevelClaim claim = claims.get(i);
      String id = Levels.id(claim, i);
      if (!claim.curves().isEmpty()) {
        blocks.add((chart(claim, id, subject.plural())));
      }
      FigureCharts.confidence(result, claim, id).ifPresent(blocks::add);
      FigureCharts.costs(claim, result.study().claim().subject(), id).ifPresent(blocks::add);
    }
    Levels.leading(result.asDecided())
        .ifPresent(leading -> blocks.addAll(fit(result, leading, claims.indexOf(leading))));
    for (int i = 0; i < claims.size(); i++) {
      LevelClaim claim = claims.get(i);
      int index = i;
      claim.figure().ifPresent(figure -> blocks.add(points(claim, index, figure, subject.key())));
      RunTables.errors(result, claim, i).ifPresent(blocks::add);
    }
    return new Section(
        "errors",
        "How large are the errors over load, and what causes them?",
        Prose.text(
            text(
                "Each line is one run of one %s. The band is the safest figure. Loads that the"
                    + " calibration fixes to zero are left out of the tables.",
                SubjectRuns.measured(result.study()).key())),
        blocks);
  }

  /** Whether the model of the leading figure fits the tested kits. */
  private static List<Block> fit(StudyResult result, LevelClaim claim, int index) {
    String id = Levels.id(claim, index);
    return KitErrors.of(result.study(), claim).stream()
        .flatMap(
            errors ->
                Stream.of(
                    FigureCharts.quantiles(result, claim, errors, id),
                    FigureCharts.residuals(claim, errors, id)))
        .flatMap(Optional::stream)
        .map(Block.class::cast)
        .toList();
  }

  /** Id of the table of a claim's limits load by load. */
  static String pointsId(Analysis analysis, LevelClaim claim) {
    return "points-" + Levels.id(claim, analysis.claims().indexOf(claim));
  }

  private static Chart chart(LevelClaim claim, String id, String plural) {
    Optional<ErrorCurve> worst =
        claim.curves().stream().max(Comparator.comparingDouble(ErrorCurve::largestGrams));
    List<Chart.Series> series = new ArrayList<>();
    List<ErrorCurve> drawn =
        Downsampled.keepingExtremes(claim.curves(), MOST_CURVES, ErrorCurve::largestGrams);
    for (ErrorCurve curve : drawn) {
      if (!worst.map(curve::equals).orElse(false)) {
        series.add(line(curve, Look.QUIET_LINE));
      }
    }
    worst.ifPresent(curve -> series.add(line(curve, Look.LINE)));
    claim
        .figure()
        .ifPresent(
            figure -> {
              String name = "printable figure ±" + plain(figure.printableGrams()) + " g";
              DoubleSummaryStatistics loads =
                  claim.curves().get(0).points().stream()
                      .mapToDouble(ErrorCurve.Point::loadKilograms)
                      .summaryStatistics();
              for (double edge : new double[] {-figure.printableGrams(), figure.printableGrams()}) {
                series.add(
                    new Chart.Series(
                        name,
                        Look.EDGE,
                        List.of(
                            new Chart.Point(loads.getMin(), edge),
                            new Chart.Point(loads.getMax(), edge))));
              }
            });
    return new Chart(
        new Chart.Caption(
            "errors-" + id,
            "Reading error of " + plural + " over load, " + claim.description(),
            text(
                "%s runs%s; the largest error is %s g in size%s.",
                claim.curves().size(),
                Downsampled.words(claim.curves(), drawn, "with the largest errors"),
                worst.map(w -> plain(Math.rint(w.largestGrams() * 10) / 10)).orElse("0"),
                worst.map(w -> ", on " + w.pair()).orElse(""))),
        new Chart.Axis("Load", "kg", Chart.Scale.EXACT),
        new Chart.Axis("Reading error", "g"),
        series,
        List.of());
  }

  private static Chart.Series line(ErrorCurve curve, Look look) {
    return new Chart.Series(
        curve.pair() + ", " + curve.run(),
        look,
        curve.points().stream()
            .map(p -> new Chart.Point(p.loadKilograms(), p.errorGrams()))
            .toList());
  }

  private static int loadDecimals(LevelOutcome.Figure figure) {
    return figure.points().stream()
        .mapToInt(p -> CellTexts.decimals(p.loadKilograms()))
        .max()
        .orElse(0);
  }

  private static Table points(LevelClaim claim, int index, LevelOutcome.Figure figure, String one) {
    Map<Role, String> sources = new LinkedHashMap<>();
    figure
        .points()
        .forEach(p -> p.contributions().forEach(c -> sources.putIfAbsent(c.role(), c.title())));
    TableBuilder<LevelOutcome.PointLimit> table =
        new TableBuilder<LevelOutcome.PointLimit>(
                "points-" + Levels.id(claim, index),
                "Error and its sources at each load, " + claim.label())
            .note(
                "Sources as standard deviations in grams. They add in squares. Limits of single"
                    + " loads do not hold for all loads together; the figure does.")
            .add(
                "load",
                "Load [kg]",
                decimals(loadDecimals(figure)),
                LevelOutcome.PointLimit::loadKilograms)
            .add("direction", "Direction", TEXT, p -> p.direction().word())
            .add("mean", "Mean error [g]", significant(4), LevelOutcome.PointLimit::meanGrams);
    List<String> keys = new ArrayList<>();
    sources.forEach(
        (role, title) -> {
          String key = "sd-" + role.key().replace(' ', '-');
          keys.add(key);
          table.add(
              key,
              title + " [g]",
              significant(4),
              p ->
                  p.contributions().stream()
                      .filter(c -> c.role() == role)
                      .findFirst()
                      .map(LevelOutcome.Contribution::standardDeviationGrams));
        });
    return table
        .live(
            "total",
            "Total standard deviation [g]",
            significant(4),
            LevelOutcome.PointLimit::totalStandardDeviationGrams,
            row -> Formula.of("SQRT({})", Formula.call("SUMSQ", keys)))
        .add(
            "within",
            "Any " + one + " within ± [g]",
            significant(4),
            LevelOutcome.PointLimit::withinGrams)
        .live(
            "largest",
            "Largest tested [g]",
            significant(4),
            LevelOutcome.PointLimit::largestGrams,
            p -> largest(claim, index, p))
        .of(figure.points());
  }

  /** From the errors of all runs; a load may stand at several steps, so the value is compared. */
  private static Optional<Formula> largest(
      LevelClaim claim, int index, LevelOutcome.PointLimit point) {
    ClaimForm form = claim.form();
    List<ErrorCurve.Point> steps =
        claim.curves().stream().findFirst().map(ErrorCurve::points).orElse(List.of());
    for (int i = 0; i < steps.size(); i++) {
      int step = i;
      boolean here =
          steps.get(step).loadKilograms() == point.loadKilograms()
              && steps.get(step).direction() == point.direction();
      OptionalDouble seen =
          claim.curves().stream()
              .mapToDouble(c -> form.counted(form.sign() * c.points().get(step).errorGrams()))
              .max();
      if (here && Math.abs(seen.orElseThrow() - point.largestGrams()) < 1e-9) {
        Range errors = Range.column(RunTables.errorsId(claim, index), RunTables.stepKey(step));
        return Optional.of(
            switch (form.side()) {
              case BOTH -> Formula.of("MAX(MAX({}),-MIN({}))", errors, errors);
              case ABOVE -> Formula.of("MAX({})", errors);
              case BELOW -> Formula.of("-MIN({})", errors);
            });
      }
    }
    return Optional.empty();
  }
}
