package lotproof.report.assembly;

import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.ConfidencePoint;
import lotproof.claim.KitErrors;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.FigureWords;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/** Error over load at each calibration level, and which source costs how much at each load. */
final class ErrorSection {
  /** More lines than this make one grey area, on paper as on a screen. */
  private static final int MOST_CURVES = 400;

  /** More points than this cover one another. */
  private static final int MOST_KITS = 1000;

  private final ReportedLevel level;
  private final List<ErrorCurve> curves;
  private final ClaimRequest request;
  private final String plural;
  private final String description;

  private ErrorSection(ReportedLevel level) {
    this.level = level;
    this.curves = level.claim().curves();
    this.request = level.result().study().claim();
    this.plural = level.subject().plural();
    this.description = level.claim().description();
  }

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    List<ErrorSection> levels = ReportedLevel.of(result).stream().map(ErrorSection::new).toList();
    for (ErrorSection level : levels) {
      level.errors().ifPresent(blocks::add);
      level.confidence().ifPresent(blocks::add);
    }
    ReportedLevel.leading(result).map(ErrorSection::new).ifPresent(leading -> leading.add(blocks));
    for (ErrorSection level : levels) {
      if (level.level.figure().isPresent()) {
        blocks.add(level.points());
      }
      RunTables.errors(level.level).ifPresent(blocks::add);
    }
    return new Section(
        "errors",
        "How large are the errors over load, and what causes them?",
        Prose.of(
            "Each line is one run of one {}. The band is the safest figure. Loads that the"
                + " calibration fixes to zero are left out of the tables.",
            SubjectRuns.measured(result.study()).key()),
        blocks);
  }

  /** The error curves of all runs, the worst one named, and the band of the figure. */
  private Optional<Chart> errors() {
    if (curves.isEmpty()) {
      return Optional.empty();
    }
    ErrorCurve worst =
        curves.stream().max(Comparator.comparingDouble(ErrorCurve::largestGrams)).orElseThrow();
    List<ErrorCurve> drawn =
        Downsampled.keepingExtremes(curves, MOST_CURVES, ErrorCurve::largestGrams);
    List<Series> series = new ArrayList<>();
    drawn.stream()
        .filter(curve -> !curve.equals(worst))
        .forEach(curve -> series.add(line(curve, Look.QUIET_LINE)));
    series.add(line(worst, Look.LINE));
    if (level.figure().isPresent()) {
      double grams = level.safest().printableGrams();
      DoubleSummaryStatistics loads =
          curves.get(0).points().stream()
              .mapToDouble(ErrorCurve.Point::loadKilograms)
              .summaryStatistics();
      for (double edge : new double[] {-grams, grams}) {
        series.add(
            new Series(
                "printable figure ±" + plain(grams) + " g",
                Look.EDGE,
                List.of(new Point(loads.getMin(), edge), new Point(loads.getMax(), edge))));
      }
    }
    return Optional.of(
        new Chart(
            new Caption(
                level.id("errors"),
                "Reading error of " + plural + " over load, " + description,
                text(
                    "%s runs%s; the largest error is %s g in size, on %s.",
                    curves.size(),
                    Downsampled.words(curves, drawn, "with the largest errors"),
                    plain(Math.rint(worst.largestGrams() * 10) / 10),
                    worst.pair())),
            new Axis("Load", "kg", Scale.EXACT),
            new Axis("Reading error", "g"),
            series,
            List.of()));
  }

  private static Series line(ErrorCurve curve, Look look) {
    return Series.of(
        curve.pair() + ", " + curve.run(),
        look,
        curve.points(),
        p -> new Point(p.loadKilograms(), p.errorGrams()));
  }

  /** How sure each figure is, by the model and by the tested kits alone. */
  private Optional<Chart> confidence() {
    List<ConfidencePoint> curve =
        level.claim().detail().map(FigureDetail::confidenceCurve).orElse(List.of());
    if (curve.size() < 2 || level.figure().isEmpty()) {
      return Optional.empty();
    }
    String asked = percent(request.confidence()) + " %";
    double printable = level.safest().printableGrams();
    List<Mark> marks = new ArrayList<>();
    marks.add(new Mark("printable", printable, true));
    level.claim().wanted().ifPresent(w -> marks.add(new Mark("wanted", w.wantedGrams(), true)));
    marks.add(new Mark("asked for: " + asked, request.confidence()));
    return Optional.of(
        new Chart(
            new Caption(
                level.id("confidence"),
                "How sure is each figure, " + description + "?",
                text(
                    "Confidence that at least %s %% of %s stay within a figure. At %s it reaches"
                        + " the %s that the study asks for, by the model and the tested %s"
                        + " together.",
                    percent(request.content()),
                    plural,
                    level.form().words(printable),
                    asked,
                    plural)),
            new Axis("Figure ±", "g"),
            new Axis("Confidence", "", Scale.FRACTION),
            List.of(
                Series.of("by the model", Look.LINE, curve, p -> new Point(p.grams(), p.byModel())),
                Series.of(
                    "by the tested " + plural + " alone",
                    Look.LINE,
                    curve,
                    p -> new Point(p.grams(), p.byTestedKits()))),
            marks));
  }

  private Optional<Chart> costs() {
    List<BudgetLine> lines =
        level.claim().detail().map(FigureDetail::budget).orElse(List.of()).stream()
            .sorted(Comparator.comparingDouble(BudgetLine::costGrams).reversed())
            .toList();
    if (lines.isEmpty()) {
      return Optional.empty();
    }
    List<String> titles =
        lines.stream().map(line -> FigureWords.title(line.contributor(), level.subject())).toList();
    return Optional.of(
        new Chart(
            new Caption(
                level.id("costs"),
                "What costs how much of the figure, " + description + "?",
                text(
                    "By how much the bound at the widest load would shrink without each contributor"
                        + " alone; the largest is: %s, %s. Costs do not add up, because spreads add"
                        + " in squares.",
                    titles.get(0).toLowerCase(Locale.ROOT), grams(lines.get(0).costGrams()))),
            new Axis("Cost in the figure", "g", Scale.FROM_ZERO),
            Axis.words("Contributor", titles),
            List.of(
                new Series(
                    "cost",
                    Look.BARS,
                    IntStream.range(0, lines.size())
                        .mapToObj(row -> new Point(lines.get(row).costGrams(), row))
                        .toList())),
            List.of()));
  }

  /** What makes up the leading figure, and whether its model fits the tested kits. */
  private void add(List<Block> blocks) {
    costs().ifPresent(blocks::add);
    KitErrors.of(level.result().study(), level.claim())
        .ifPresent(
            errors -> {
              String place = plain(errors.loadKilograms()) + " kg " + errors.direction().word();
              if (errors.kits().size() >= 3) {
                blocks.add(quantiles(errors.kits(), place));
              }
              if (!errors.rest().isEmpty()) {
                blocks.add(residuals(errors.rest(), place));
              }
            });
  }

  /** Kits against the normal distribution of the model. */
  private Chart quantiles(List<KitErrors.Kit> kits, String place) {
    PointLimit worst = level.safest().worst();
    List<KitErrors.Kit> drawn =
        Downsampled.keepingExtremes(kits, MOST_KITS, kit -> Math.abs(kit.normalQuantile()));
    DoubleSummaryStatistics quantiles =
        drawn.stream().mapToDouble(KitErrors.Kit::normalQuantile).summaryStatistics();
    return new Chart(
        new Caption(
            level.id("normal"),
            text("Do %s follow the normal distribution of the model, %s?", plural, description),
            text(
                "Error of %s %s%s at %s, where errors are widest, from the least to the greatest."
                    + " The line is what the model expects of a future %s.",
                kits.size(),
                plural,
                Downsampled.words(kits, drawn, "furthest out"),
                place,
                level.subject().key())),
        new Axis("Quantile of the standard normal distribution", ""),
        new Axis("Reading error", "g"),
        List.of(
            Series.of(
                plural,
                Look.DOTS,
                drawn,
                k ->
                    new Point(
                        k.normalQuantile(),
                        k.error().grams(),
                        k.error().cell() + " × " + k.error().board())),
            new Series(
                "by the model",
                Look.MODEL,
                DoubleStream.of(quantiles.getMin(), quantiles.getMax())
                    .mapToObj(
                        z ->
                            new Point(
                                z, worst.meanGrams() + z * worst.totalStandardDeviationGrams()))
                    .toList())),
        List.of());
  }

  /** What cell and board leave of each kit. */
  private Chart residuals(List<KitErrors.KitMean> rest, String place) {
    KitErrors.KitMean largest =
        rest.stream().max(Comparator.comparingDouble(r -> Math.abs(r.grams()))).orElseThrow();
    List<String> cells = rest.stream().map(KitErrors.KitMean::cell).distinct().sorted().toList();
    return new Chart(
        new Caption(
            level.id("rest"),
            "Is any pair odd once its cell and board are known, " + description + "?",
            text(
                "What is left of the error at %s after the effects of cell, board and lots; the"
                    + " largest is %s, of %s on %s.",
                place, grams(largest.grams()), largest.cell(), largest.board())),
        Axis.words("Cell", cells),
        new Axis("Residual", "g"),
        List.of(
            Series.of(
                "pairs",
                Look.DOTS,
                rest,
                r -> new Point(cells.indexOf(r.cell()), r.grams(), r.cell() + " × " + r.board()))),
        List.of());
  }

  private static String grams(double grams) {
    return Quantity.significant(grams, "g", 3).toString();
  }

  private Table points() {
    List<PointLimit> points = level.safest().points();
    Map<Role, String> sources = new LinkedHashMap<>();
    points.forEach(p -> p.contributions().forEach(c -> sources.putIfAbsent(c.role(), c.title())));
    TableBuilder<PointLimit> table =
        new TableBuilder<PointLimit>(
                level.pointsId(), "Error and its sources at each load, " + level.label())
            .note(
                "Sources as standard deviations in grams. They add in squares. Limits of single"
                    + " loads do not hold for all loads together; the figure does.")
            .add("Load [kg]", EXACT, PointLimit::loadKilograms)
            .add("Direction", TEXT, p -> p.direction().word())
            .add("Mean error [g]", significant(4), PointLimit::meanGrams);
    List<String> keys = new ArrayList<>();
    sources.forEach(
        (role, title) -> {
          table.add(title + " [g]", significant(4), p -> sd(p, role));
          keys.add(table.lastKey());
        });
    return table
        .add(
            "Total standard deviation [g]", significant(4), PointLimit::totalStandardDeviationGrams)
        .live(p -> Formula.of("SQRT({})", Formula.call("SUMSQ", keys)))
        .add(
            "Any " + level.subject().key() + " within ± [g]",
            significant(4),
            PointLimit::withinGrams)
        .add("Largest tested [g]", significant(4), PointLimit::largestGrams)
        .live(this::largest)
        .of(points);
  }

  private static Optional<Double> sd(PointLimit point, Role role) {
    return point.contributions().stream()
        .filter(c -> c.role() == role)
        .findFirst()
        .map(Contribution::standardDeviationGrams);
  }

  /** From the errors of all runs; a load may stand at several steps, so the value is compared. */
  private Optional<Formula> largest(PointLimit point) {
    ClaimForm form = level.form();
    List<ErrorCurve.Point> steps =
        curves.stream().findFirst().map(ErrorCurve::points).orElse(List.of());
    for (int i = 0; i < steps.size(); i++) {
      int step = i;
      boolean here =
          steps.get(step).loadKilograms() == point.loadKilograms()
              && steps.get(step).direction() == point.direction();
      OptionalDouble seen =
          curves.stream()
              .mapToDouble(c -> form.counted(form.sign() * c.points().get(step).errorGrams()))
              .max();
      if (here && Math.abs(seen.orElseThrow() - point.largestGrams()) < 1e-9) {
        Range errors = Range.column(level.errorsId(), RunTables.stepKey(step));
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
