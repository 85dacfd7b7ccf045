package lotproof.report.assembly;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.ToDoubleFunction;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.Addend;
import lotproof.claim.FigureDetail.ConfidencePoint;
import lotproof.claim.KitErrors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.words.FigureWords;
import lotproof.report.words.ReviewWords;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/** The charts of a calibration level. */
record LevelCharts(ReportedLevel level) {
  /** More runs than this cover one another. */
  private static final int MOST_RUNS = 400;

  /** More points than this cover one another. */
  private static final int MOST_KITS = 1000;

  /** Dots of a load stand side by side over this part of the room between two loads. */
  private static final double WIDTH = 0.62;

  private static final double END = 0.49;

  private ClaimForm form() {
    return level.form();
  }

  private String plural() {
    return level.subject().plural();
  }

  /** What a figure is called in a chart. */
  private String named(String word, double grams) {
    return word + " " + form().words(grams);
  }

  /** The errors of all runs at the tested loads, the printable and the wanted figure. */
  Optional<Chart> errors() {
    List<ErrorCurve> curves = level.claim().curves();
    if (curves.isEmpty()) {
      return Optional.empty();
    }
    ErrorCurve worst =
        curves.stream()
            .max(Comparator.comparingDouble(curve -> curve.largestGrams(form())))
            .orElseThrow();
    List<ErrorCurve> drawn =
        Downsampled.keepingExtremes(curves, MOST_RUNS, curve -> curve.largestGrams(form()));
    List<ErrorCurve.Point> steps = curves.get(0).points();
    List<Series> series = new ArrayList<>();
    level
        .figure()
        .ifPresent(f -> series.addAll(edges("printable", f.printableGrams(), Look.EDGE, steps)));
    level
        .claim()
        .wanted()
        .ifPresent(w -> series.addAll(edges("wanted", w.wantedGrams(), Look.WANTED, steps)));
    for (int i = 0; i < drawn.size(); i++) {
      ErrorCurve curve = drawn.get(i);
      // neighbours in the record stand apart, so that sessions do not make stripes
      double aside = WIDTH * ((i * 37 % drawn.size() + 0.5) / drawn.size() - 0.5);
      series.add(
          new Series(
              curve.cell() + " × " + curve.board() + ", " + curve.run(),
              curve.equals(worst) ? Look.DOTS : Look.RUN,
              IntStream.range(0, curve.points().size())
                  .mapToObj(step -> new Point(step + aside, curve.points().get(step).errorGrams()))
                  .toList()));
    }
    return Optional.of(
        new Chart(
            new Caption(
                level.id("errors"),
                "Reading error of every run, " + level.label(),
                text(
                    "%s runs%s. Largest: %s g, %s.",
                    curves.size(),
                    Downsampled.words(curves, drawn, "with the largest errors"),
                    digits(worst.largestGrams(), 3),
                    worst.pair())),
            Axis.words("Load in kg, rising (up) and falling (down)", loads(steps)),
            new Axis("Reading error", "g"),
            series,
            List.of()));
  }

  private static List<String> loads(List<ErrorCurve.Point> steps) {
    return steps.stream()
        .map(p -> plain(p.loadKilograms()) + (p.direction() == Direction.RISING ? " up" : " down"))
        .toList();
  }

  /** Both limits of a figure over the loads; of a figure on one side only that. */
  private List<Series> edges(String word, double grams, Look look, List<ErrorCurve.Point> steps) {
    List<Series> edges = new ArrayList<>();
    double[] signs = form().twoSided() ? new double[] {-1, 1} : new double[] {form().sign()};
    for (double sign : signs) {
      List<Point> points = new ArrayList<>();
      for (int i = 0; i < steps.size(); i++) {
        double y = sign * grams * form().weight(steps.get(i).loadKilograms());
        points.add(new Point(i - END, y));
        points.add(new Point(i + END, y));
      }
      edges.add(new Series(named(word, grams), look, points));
    }
    return edges;
  }

  /** What adds up to the printable figure, one addend a row. */
  Optional<Chart> sum() {
    List<Addend> sum =
        level.claim().detail().map(FigureDetail::sum).orElse(List.of()).stream()
            .filter(addend -> Math.abs(addend.grams()) > 1e-9)
            .toList();
    if (sum.isEmpty()) {
      return Optional.empty();
    }
    double printable = level.safest().printableGrams();
    List<String> rows = new ArrayList<>();
    List<Point> from = new ArrayList<>();
    List<Point> to = new ArrayList<>();
    double reached = 0;
    for (Addend addend : sum) {
      from.add(new Point(reached, rows.size()));
      reached += addend.grams();
      to.add(new Point(reached, rows.size()));
      rows.add(title(addend) + " " + digits(addend.grams(), 3));
    }
    PointLimit worst = level.safest().worst();
    return Optional.of(
        new Chart(
            new Caption(
                level.id("sum"),
                text("How %s adds up, %s", form().words(printable), level.label()),
                text(
                    "In grams, at %s kg %s, where the limit is widest.",
                    plain(worst.loadKilograms()), worst.direction().word())),
            new Axis("Figure", "g", Scale.FROM_ZERO),
            Axis.words("Part of the figure", rows),
            List.of(new Series("start", Look.FROM, from), new Series("end", Look.BARS, to)),
            figures(true)));
  }

  /** What an addend is. */
  static String title(Addend addend) {
    return switch (addend.cause()) {
      case SPREAD -> "Spread of the content asked";
      case UNCERTAINTY -> "Not knowing both exactly";
      case ALL_LOADS -> "All loads, or the worst kit";
      case ADDED -> addend.source().map(FigureWords::title).orElse("Side tests");
      case BOUND, MEAN, ROUNDING -> ReviewWords.title(addend.cause());
    };
  }

  /** The printable and the wanted figure as lines. */
  private List<Mark> figures(boolean upright) {
    List<Mark> marks = new ArrayList<>();
    marks.add(new Mark("printable", level.safest().printableGrams(), upright));
    level
        .claim()
        .wanted()
        .map(LevelClaim.Verdict::wantedGrams)
        .ifPresent(grams -> marks.add(new Mark("wanted", grams, upright)));
    return marks;
  }

  /** How sure each figure is, by the model and by the tested kits alone. */
  Optional<Chart> confidence(FigureDetail detail) {
    List<ConfidencePoint> curve = detail.confidenceCurve();
    if (curve.size() < 2) {
      return Optional.empty();
    }
    ClaimRequest request = level.result().study().claim();
    String asked = percent(request.confidence()) + " %";
    List<Mark> marks = new ArrayList<>(figures(true));
    marks.add(new Mark("asked for: " + asked, request.confidence()));
    List<Point> steps = new ArrayList<>();
    for (ConfidencePoint point : curve) {
      // what is known at one figure holds for the next larger ones
      steps.stream()
          .reduce((first, second) -> second)
          .ifPresent(last -> steps.add(new Point(point.grams(), last.y())));
      steps.add(new Point(point.grams(), point.byTestedKits()));
    }
    return Optional.of(
        new Chart(
            new Caption(
                level.id("confidence"),
                "How sure is each figure, " + level.claim().description() + "?",
                text(
                    "Confidence that at least %s %% of %s stay within a figure.",
                    percent(request.content()), plural())),
            new Axis("Figure ±", "g"),
            new Axis("Confidence", "", Scale.FRACTION),
            List.of(
                Series.of("by the model", Look.LINE, curve, p -> new Point(p.grams(), p.byModel())),
                new Series("by the tested " + plural() + " alone, at least", Look.LINE, steps)),
            marks));
  }

  /** Kits against the normal distribution of the model, at the load where errors are widest. */
  Optional<Chart> normal() {
    Optional<KitErrors> errors = KitErrors.of(level.result().study(), level.claim());
    List<KitErrors.Kit> kits = errors.map(KitErrors::kits).orElse(List.of());
    if (kits.size() < 3) {
      return Optional.empty();
    }
    PointLimit worst = level.safest().worst();
    ToDoubleFunction<KitErrors.Kit> reach = kit -> Math.abs(kit.normalQuantile());
    List<KitErrors.Kit> drawn = Downsampled.keepingExtremes(kits, MOST_KITS, reach);
    DoubleSummaryStatistics quantiles =
        drawn.stream().mapToDouble(KitErrors.Kit::normalQuantile).summaryStatistics();
    DoubleUnaryOperator expected = z -> worst.meanGrams() + z * worst.totalStandardDeviationGrams();
    return Optional.of(
        new Chart(
            new Caption(
                level.id("normal"),
                text("Are the errors normal in shape, %s?", level.claim().description()),
                text(
                    "%s %s%s at %s kg %s. The line is what the model expects.",
                    kits.size(),
                    plural(),
                    Downsampled.words(kits, drawn, "furthest out"),
                    plain(worst.loadKilograms()),
                    worst.direction().word())),
            new Axis("Quantile of the standard normal distribution", ""),
            new Axis("Reading error", "g"),
            List.of(
                Series.of(
                    plural(),
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
                        .mapToObj(z -> new Point(z, expected.applyAsDouble(z)))
                        .toList())),
            List.of()));
  }
}
