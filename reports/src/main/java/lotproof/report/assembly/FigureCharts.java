package lotproof.report.assembly;

import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail;
import lotproof.claim.KitErrors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Quantity;
import lotproof.report.text.PlainText;
import lotproof.report.words.FigureWords;
import lotproof.report.words.Numbers;
import lotproof.study.ClaimRequest;

/** Charts about one figure: how sure it is, what it costs, and whether its model fits the kits. */
final class FigureCharts {
  /** More points than this cover one another. */
  private static final int MOST_KITS = 1000;

  private FigureCharts() {}

  /** How sure each figure is, by the model and by the tested kits alone. */
  static Optional<Chart> confidence(StudyResult result, LevelClaim claim, String id) {
    String plural = result.study().claim().subject().plural();
    Optional<FigureDetail> detail = claim.detail().filter(d -> d.confidenceCurve().size() > 1);
    if (detail.isEmpty() || claim.figure().isEmpty()) {
      return Optional.empty();
    }
    List<FigureDetail.ConfidencePoint> curve = detail.get().confidenceCurve();
    double asked = result.study().claim().confidence();
    String content = percent(result.study().claim().content());
    List<Chart.Mark> marks = new ArrayList<>();
    marks.add(new Chart.Mark("printable", claim.figure().get().printableGrams(), true));
    claim.wanted().ifPresent(w -> marks.add(new Chart.Mark("wanted", w.wantedGrams(), true)));
    marks.add(new Chart.Mark("asked for: " + percent(asked), asked));
    return Optional.of(
        new Chart(
            new Chart.Caption(
                "confidence-" + id,
                "How sure is each figure, " + claim.description() + "?",
                text(
                    "Confidence that at least %s of %s stay within a figure. At %s it reaches the"
                        + " %s that the study asks for, by the model and the tested %s together.",
                    content,
                    plural,
                    claim.form().words(claim.figure().get().printableGrams()),
                    percent(asked),
                    plural)),
            new Chart.Axis("Figure ±", "g"),
            new Chart.Axis("Confidence", "", Chart.Scale.FRACTION),
            List.of(
                new Series(
                    "by the model",
                    Look.LINE,
                    curve.stream().map(p -> new Point(p.grams(), p.byModel())).toList()),
                new Series(
                    "by the tested " + plural + " alone",
                    Look.LINE,
                    curve.stream().map(p -> new Point(p.grams(), p.byTestedKits())).toList())),
            marks));
  }

  /** What each contributor costs. */
  static Optional<Chart> costs(LevelClaim claim, ClaimRequest.Subject subject, String id) {
    Optional<FigureDetail> detail = claim.detail().filter(d -> !d.budget().isEmpty());
    if (detail.isEmpty()) {
      return Optional.empty();
    }
    List<FigureDetail.BudgetLine> lines =
        detail.get().budget().stream()
            .sorted(Comparator.comparingDouble(FigureDetail.BudgetLine::costGrams).reversed())
            .toList();
    FigureDetail.BudgetLine first = lines.get(0);
    return Optional.of(
        new Chart(
            new Chart.Caption(
                "costs-" + id,
                "What costs how much of the figure, " + claim.description() + "?",
                text(
                    "By how much the bound at the widest load would shrink without each contributor"
                        + " alone; the largest is: %s, %s. Costs do not add up, because spreads add"
                        + " in squares.",
                    FigureWords.title(first.contributor(), subject).toLowerCase(Locale.ROOT),
                    PlainText.of(Quantity.significant(first.costGrams(), "g", 3)))),
            new Chart.Axis("Cost in the figure", "g", Chart.Scale.FROM_ZERO),
            Chart.Axis.words(
                "Contributor",
                lines.stream().map(l -> FigureWords.title(l.contributor(), subject)).toList()),
            List.of(
                new Series(
                    "cost",
                    Look.BARS,
                    IntStream.range(0, lines.size())
                        .mapToObj(row -> new Point(lines.get(row).costGrams(), row))
                        .toList())),
            List.of()));
  }

  /** Kits against the normal distribution of the model. */
  static Optional<Chart> quantiles(
      StudyResult result, LevelClaim claim, KitErrors errors, String id) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    if (errors.kits().size() < 3) {
      return Optional.empty();
    }
    LevelOutcome.Figure figure = claim.figure().orElseThrow();
    LevelOutcome.PointLimit point = figure.worst();
    List<KitErrors.Kit> drawn =
        Downsampled.keepingExtremes(
            errors.kits(), MOST_KITS, kit -> Math.abs(kit.normalQuantile()));
    DoubleSummaryStatistics quantiles =
        drawn.stream().mapToDouble(KitErrors.Kit::normalQuantile).summaryStatistics();
    return Optional.of(
        new Chart(
            new Chart.Caption(
                "normal-" + id,
                text(
                    "Do %s follow the normal distribution of the model, %s?",
                    subject.plural(), claim.description()),
                text(
                    "Error of %s %s%s at %s, where errors are widest, from the least to the"
                        + " greatest. The line is what the model expects of a future %s.",
                    errors.kits().size(),
                    subject.plural(),
                    Downsampled.words(errors.kits(), drawn, "furthest out"),
                    place(errors),
                    subject.key())),
            new Chart.Axis("Quantile of the standard normal distribution", ""),
            new Chart.Axis("Reading error", "g"),
            List.of(
                new Series(
                    subject.plural(),
                    Look.DOTS,
                    drawn.stream()
                        .map(
                            k ->
                                new Point(
                                    k.normalQuantile(),
                                    k.errorGrams(),
                                    k.cell() + " × " + k.board()))
                        .toList()),
                new Series(
                    "by the model",
                    Look.MODEL,
                    DoubleStream.of(quantiles.getMin(), quantiles.getMax())
                        .mapToObj(
                            z ->
                                new Point(
                                    z, point.meanGrams() + z * point.totalStandardDeviationGrams()))
                        .toList())),
            List.of()));
  }

  /** What cell and board leave of each kit. */
  static Optional<Chart> residuals(LevelClaim claim, KitErrors errors, String id) {
    Optional<KitErrors.Rest> largest =
        errors.rest().stream().max(Comparator.comparingDouble(r -> Math.abs(r.restGrams())));
    if (largest.isEmpty()) {
      return Optional.empty();
    }
    List<String> cells =
        errors.rest().stream().map(KitErrors.Rest::cell).distinct().sorted().toList();
    return Optional.of(
        new Chart(
            new Chart.Caption(
                "rest-" + id,
                "Is any pair odd once its cell and board are known, " + claim.description() + "?",
                text(
                    "What is left of the error at %s after the effects of cell, board and lots; the"
                        + " largest is %s, of %s on %s.",
                    place(errors),
                    PlainText.of(new Quantity(largest.get().restGrams(), "g", significant(3))),
                    largest.get().cell(),
                    largest.get().board())),
            Chart.Axis.words("Cell", cells),
            new Chart.Axis("Residual", "g"),
            List.of(
                new Series(
                    "pairs",
                    Look.DOTS,
                    errors.rest().stream()
                        .map(
                            r ->
                                new Point(
                                    cells.indexOf(r.cell()),
                                    r.restGrams(),
                                    r.cell() + " × " + r.board()))
                        .toList())),
            List.of()));
  }

  private static String place(KitErrors errors) {
    return plain(errors.loadKilograms()) + " kg " + errors.direction().word();
  }

  private static String percent(double fraction) {
    return Numbers.percent(fraction) + " %";
  }
}
