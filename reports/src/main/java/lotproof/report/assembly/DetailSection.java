package lotproof.report.assembly;

import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.FigureWords;

/** Everything behind and beside the figures of all levels. */
record DetailSection(ReportedLevel level, FigureDetail detail) {
  static Section of(StudyResult result) {
    List<ReportedLevel> levels =
        ReportedLevel.of(result).stream().filter(l -> l.claim().detail().isPresent()).toList();
    ClaimWords words = new ClaimWords(result);
    List<Block> blocks = new ArrayList<>();
    for (ReportedLevel level : levels) {
      DetailSection detail = new DetailSection(level, level.claim().detail().orElseThrow());
      blocks.addAll(List.of(detail.budget(), detail.contents()));
      if (!detail.detail.leftOut().isEmpty()) {
        blocks.add(detail.leftOut());
      }
      ClaimWords.Wording wording = words.of(level.claim());
      blocks.add(
          Block.paragraph("For a product page, {}: {}", level.label(), wording.productLine()));
      blocks.add(Block.paragraph("{}", wording.footnote()));
    }
    Map<String, String> not =
        ReportedLevel.told(levels, level -> words.of(level.claim()).mustNotSay());
    blocks.add(
        new TableBuilder<Map.Entry<String, String>>("not-to-say", "What must not be said")
            .add("Not supported by this study", TEXT, Map.Entry::getKey)
            .add("Calibration levels", TEXT, Map.Entry::getValue)
            .of(List.copyOf(not.entrySet())));
    return new Section(
        "figure-detail",
        "Uncertainty and approved wording",
        Prose.text(
            "Contributors to the error, other contents and confidences, units that carry the"
                + " figure, and words for print."),
        blocks);
  }

  private <T> TableBuilder<T> table(String id, String title) {
    return new TableBuilder<>(level.id(id), title + ", " + level.label());
  }

  private Table budget() {
    double squares =
        detail.budget().stream()
            .filter(DetailSection::isSpread)
            .mapToDouble(line -> line.grams() * line.grams())
            .sum();
    Range spreads =
        new Range(level.id("budget"), "size", Rows.where(detail.budget(), DetailSection::isSpread));
    return this.<BudgetLine>table("budget", "What makes up the figure at the worst load")
        .note(
            "The cost is what the limit at that load would lose without this contributor alone."
                + " Spreads add in squares, so their costs do not add up.")
        .add("Contributor", TEXT, line -> FigureWords.title(line.contributor(), level.subject()))
        .add("How it enters", TEXT, this::kind)
        .add("Size [g]", significant(3), BudgetLine::grams)
        .missing("-")
        .add(
            "Share of variance",
            percent(1),
            line -> isSpread(line) ? line.varianceShareFraction() : OptionalDouble.empty())
        .live(
            line ->
                onlyIf(
                    line.varianceShareFraction(),
                    line.grams() * line.grams() / squares,
                    Formula.of("{}^2/SUMSQ({})", "size", spreads)))
        .add("Costs [g]", significant(3), BudgetLine::costGrams)
        .live(line -> onlyIf(line.costGrams(), line.grams(), Formula.of("{}", "size")))
        .of(detail.budget());
  }

  private static boolean isSpread(BudgetLine line) {
    return line.contributor() instanceof Contributor.Spread;
  }

  private String kind(BudgetLine line) {
    if (isSpread(line)) {
      return text("differs from %1$s to %1$s (standard deviation)", level.subject().key());
    }
    return line.contributor() instanceof Contributor.Shift
        ? "the same for all " + level.subject().plural()
        : "added in full";
  }

  /** The formula where it gives the value: spreads of one source at several loads are joined. */
  private static Optional<Formula> onlyIf(double value, double again, Formula formula) {
    return Math.abs(value - again) <= 1e-9 * Math.abs(value)
        ? Optional.of(formula)
        : Optional.empty();
  }

  private Table contents() {
    String plural = level.subject().plural();
    return this.<FigureDetail.ContentPoint>table("contents", "Figure for each share of " + plural)
        .note("At the asked confidence, guard bands included.")
        .add("Content", percent(1), p -> p.content())
        .add("Figure by the model [g]", significant(4), p -> p.byModelGrams())
        .missing("too few " + plural)
        .add(
            "Figure by tested " + plural + " alone [g]", significant(4), p -> p.byTestedKitsGrams())
        .of(detail.contentCurve());
  }

  private Table leftOut() {
    return this.<FigureDetail.LeftOut>table("left-out", "Effect of leaving one unit out")
        .note(
            "The units that change the limit most when left out one at a time. A unit that changes"
                + " it is no reason to leave it out.")
        .add("Unit", TEXT, l -> l.kind().key())
        .add("Serial", SERIAL, l -> l.serial())
        .add("Limit without it [g]", significant(4), l -> l.boundGrams())
        .add("Change [g]", significant(3), l -> l.changeGrams())
        .of(detail.leftOut());
  }
}
