package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.FigureWords;
import lotproof.report.words.RemedyWords;
import lotproof.study.ClaimRequest;

/** What stands behind and beside a figure, as tables and prose. */
final class FigureDetailBlocks {
  private FigureDetailBlocks() {}

  /** Everything behind and beside the figures of all levels. */
  static Section section(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    List<Block> blocks = new ArrayList<>();
    for (int i = 0; i < claims.size(); i++) {
      blocks.addAll(of(result, claims.get(i), i));
    }
    return new Section(
        "figure-detail",
        "What stands behind each figure, and what may be said?",
        Prose.text(
            "Contributors to the error, other contents and confidences, units that carry the"
                + " figure, and words for print."),
        blocks);
  }

  /** What would change a no, one line a lever. */
  static List<Block> remedies(ClaimRequest request, LevelClaim claim) {
    List<Block> blocks = new ArrayList<>();
    claim
        .wanted()
        .filter(wanted -> !wanted.supported())
        .ifPresent(
            wanted ->
                wanted
                    .remedies()
                    .forEach(
                        remedy ->
                            blocks.add(
                                Block.finding(
                                    "{}, to reach {}: {}",
                                    claim.label(),
                                    claim.form().words(wanted.wantedGrams()),
                                    RemedyWords.of(remedy, request)))));
    return blocks;
  }

  /** Typical, characterised and guaranteed limits of all levels, side by side. */
  static Optional<Table> limitKinds(List<LevelClaim> claims, ClaimRequest.Subject subject) {
    List<LevelClaim> detailed = claims.stream().filter(c -> c.detail().isPresent()).toList();
    Function<LevelClaim, FigureDetail.LimitKinds> limits =
        claim -> claim.detail().orElseThrow().limits();
    Function<Function<FigureDetail.GuaranteedLimit.Known, Double>, Function<LevelClaim, Object>>
        known =
            value ->
                claim ->
                    limits.apply(claim).guaranteed()
                            instanceof FigureDetail.GuaranteedLimit.Known limit
                        ? value.apply(limit)
                        : Cell.missing("not known");
    String unknown =
        detailed.stream()
                .map(claim -> limits.apply(claim).guaranteed())
                .anyMatch(FigureDetail.GuaranteedLimit.NotKnown.class::isInstance)
            ? "Too few pairs were measured twice to know how well a test of one "
                + subject.key()
                + " repeats."
            : "";
    Table table =
        new TableBuilder<LevelClaim>(
                "limit-kinds", "Three kinds of limit, not to be mistaken for each other")
            .note(
                "Typical: half of the tested "
                    + subject.plural()
                    + " stay within it, and it promises nothing for any "
                    + subject.key()
                    + ". Characterised: the asked content of "
                    + subject.plural()
                    + " lies within it, at the asked confidence, without a test of each."
                    + " Guaranteed: holds for every "
                    + subject.key()
                    + ", but only if each one is tested at these loads before it ships and reads"
                    + " within the acceptance limit. "
                    + unknown)
            .add(Column.text("level", "Calibration level"), LevelClaim::label)
            .add(
                Column.significant("typical", "Typical", "g", 3),
                c -> limits.apply(c).typicalGrams())
            .add(
                Column.significant("characterised", "Characterised limit", "g", 4),
                c -> limits.apply(c).characterisedGrams())
            .add(
                Column.significant("guaranteed", "Guaranteed limit", "g", 4),
                known.apply(k -> k.grams()))
            .add(
                Column.significant("acceptance", "Acceptance limit", "g", 4),
                known.apply(k -> k.acceptanceGrams()))
            .add(
                Column.significant("guard", "Guard band", "g", 3), known.apply(k -> k.guardGrams()))
            .add(Column.fraction("yield", "Expected yield", 1), known.apply(k -> k.yieldFraction()))
            .of(detailed);
    return Optional.of(table).filter(t -> !t.rows().isEmpty());
  }

  /** Tables of one level. */
  private static List<Block> of(StudyResult result, LevelClaim claim, int index) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    List<Block> blocks = new ArrayList<>();
    claim
        .detail()
        .ifPresent(
            detail -> {
              String id = Levels.id(claim, index);
              String name = claim.label();
              blocks.add(budget(detail, id, name, subject));
              blocks.add(confidence(detail, id, name, subject));
              blocks.add(contents(detail, id, name, subject));
              if (!detail.leftOut().isEmpty()) {
                blocks.add(leftOut(detail, id, name));
              }
              blocks.addAll(words(result, claim, id));
            });
    return blocks;
  }

  private static Table budget(
      FigureDetail detail, String id, String name, ClaimRequest.Subject subject) {
    String table = "budget-" + id;
    List<FigureDetail.BudgetLine> lines = detail.budget();
    double squares =
        lines.stream()
            .filter(FigureDetailBlocks::isSpread)
            .mapToDouble(line -> line.grams() * line.grams())
            .sum();
    Range spreads = new Range(table, "size", Rows.where(lines, FigureDetailBlocks::isSpread));
    return new TableBuilder<FigureDetail.BudgetLine>(
            table, "What makes up the figure at the worst load, " + name)
        .note(
            "The cost is what the limit at that load would lose without this contributor alone."
                + " Spreads add in squares, so their costs do not add up.")
        .add(
            Column.text("contributor", "Contributor"),
            line -> FigureWords.title(line.contributor(), subject))
        .add(
            Column.text("kind", "How it enters"),
            line ->
                isSpread(line)
                    ? "differs from "
                        + subject.key()
                        + " to "
                        + subject.key()
                        + " (standard deviation)"
                    : line.contributor() instanceof Contributor.Shift
                        ? "the same for all " + subject.plural()
                        : "added in full")
        .add(Column.significant("size", "Size", "g", 3), FigureDetail.BudgetLine::grams)
        .live(
            Column.fraction("share", "Share of variance", 1),
            line -> isSpread(line) ? line.varianceShareFraction() : OptionalDouble.empty(),
            "-",
            line ->
                onlyIf(
                    line.varianceShareFraction(),
                    line.grams() * line.grams() / squares,
                    Formula.of("{}^2/SUMSQ({})", "size", spreads)))
        .live(
            Column.significant("cost", "Costs", "g", 3),
            FigureDetail.BudgetLine::costGrams,
            line -> onlyIf(line.costGrams(), line.grams(), Formula.of("{}", "size")))
        .of(lines);
  }

  private static boolean isSpread(FigureDetail.BudgetLine line) {
    return line.contributor() instanceof Contributor.Spread;
  }

  /** The formula where it gives the value: spreads of one source at several loads are joined. */
  private static Optional<Formula> onlyIf(double value, double again, Formula formula) {
    return Math.abs(value - again) <= 1e-9 * Math.abs(value)
        ? Optional.of(formula)
        : Optional.empty();
  }

  private static Table confidence(
      FigureDetail detail, String id, String name, ClaimRequest.Subject subject) {
    return new TableBuilder<FigureDetail.ConfidencePoint>(
            "sureness-" + id, "Confidence of other figures, " + name)
        .note(
            "Confidence that the asked content of " + subject.plural() + " lies within the figure.")
        .add(Column.significant("figure", "Figure", "g", 4), p -> p.grams())
        .add(Column.fraction("model", "Confidence by the model", 1), p -> p.byModel())
        .add(
            Column.fraction("tested", "Confidence by tested " + subject.plural() + " alone", 1),
            p -> p.byTestedKits())
        .of(detail.confidenceCurve());
  }

  private static Table contents(
      FigureDetail detail, String id, String name, ClaimRequest.Subject subject) {
    return new TableBuilder<FigureDetail.ContentPoint>(
            "contents-" + id, "Figure for each share of " + subject.plural() + ", " + name)
        .note("At the asked confidence, guard bands included.")
        .add(Column.fraction("content", "Content", 1), p -> p.content())
        .add(Column.significant("model", "Figure by the model", "g", 4), p -> p.byModelGrams())
        .add(
            Column.significant("tested", "Figure by tested " + subject.plural() + " alone", "g", 4),
            p -> p.byTestedKitsGrams(),
            "too few " + subject.plural())
        .of(detail.contentCurve());
  }

  private static Table leftOut(FigureDetail detail, String id, String name) {
    return new TableBuilder<FigureDetail.LeftOut>(
            "left-out-" + id, "Effect of leaving one unit out, " + name)
        .note(
            "The units that change the limit most when left out one at a time. A unit that changes"
                + " it is no reason to leave it out.")
        .add(Column.text("kind", "Unit"), l -> l.kind().key())
        .add(Column.serial("serial", "Serial"), l -> l.serial())
        .add(Column.significant("bound", "Limit without it", "g", 4), l -> l.boundGrams())
        .add(Column.significant("change", "Change", "g", 3), l -> l.changeGrams())
        .of(detail.leftOut());
  }

  private static List<Block> words(StudyResult result, LevelClaim claim, String id) {
    ClaimWords.Wording wording = new ClaimWords(result).of(claim);
    List<Block> blocks = new ArrayList<>();
    blocks.add(Block.paragraph("For a product page, {}: {}", claim.label(), wording.productLine()));
    blocks.add(Block.paragraph("{}", wording.footnote()));
    blocks.add(
        new TableBuilder<String>("not-to-say-" + id, "What must not be said, " + claim.label())
            .add(Column.text("not", "Not supported by this study"), not -> not)
            .of(wording.mustNotSay()));
    return blocks;
  }
}
