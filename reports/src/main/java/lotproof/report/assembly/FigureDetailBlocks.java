package lotproof.report.assembly;

import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

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
        "Uncertainty and approved wording",
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
            ? text(
                "Too few pairs were measured twice to know how well a test of one %s repeats.",
                subject.key())
            : "";
    Table table =
        new TableBuilder<LevelClaim>(
                "limit-kinds", "Three kinds of limit, not to be mistaken for each other")
            .note(
                text(
                    "Typical: half of the tested %s stay within it, and it promises nothing for any"
                        + " %s. Characterised: the asked content of %s lies within it, at the asked"
                        + " confidence, without a test of each. Guaranteed: holds for every %s, but"
                        + " only if each one is tested at these loads before it ships and reads"
                        + " within the acceptance limit. %s",
                    subject.plural(), subject.key(), subject.plural(), subject.key(), unknown))
            .add("level", "Calibration level", TEXT, LevelClaim::label)
            .add("typical", "Typical [g]", significant(3), c -> limits.apply(c).typicalGrams())
            .add(
                "characterised",
                "Characterised limit [g]",
                significant(4),
                c -> limits.apply(c).characterisedGrams())
            .add("guaranteed", "Guaranteed limit [g]", significant(4), known.apply(k -> k.grams()))
            .add(
                "acceptance",
                "Acceptance limit [g]",
                significant(4),
                known.apply(k -> k.acceptanceGrams()))
            .add("guard", "Guard band [g]", significant(3), known.apply(k -> k.guardGrams()))
            .add("yield", "Expected yield", percent(1), known.apply(k -> k.yieldFraction()))
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
            "contributor",
            "Contributor",
            TEXT,
            line -> FigureWords.title(line.contributor(), subject))
        .add(
            "kind",
            "How it enters",
            TEXT,
            line ->
                isSpread(line)
                    ? text(
                        "differs from %s to %s (standard deviation)", subject.key(), subject.key())
                    : line.contributor() instanceof Contributor.Shift
                        ? "the same for all " + subject.plural()
                        : "added in full")
        .add("size", "Size [g]", significant(3), FigureDetail.BudgetLine::grams)
        .live(
            Column.of("share", "Share of variance", percent(1)),
            line -> isSpread(line) ? line.varianceShareFraction() : OptionalDouble.empty(),
            "-",
            line ->
                onlyIf(
                    line.varianceShareFraction(),
                    line.grams() * line.grams() / squares,
                    Formula.of("{}^2/SUMSQ({})", "size", spreads)))
        .live(
            "cost",
            "Costs [g]",
            significant(3),
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
        .add("figure", "Figure [g]", significant(4), p -> p.grams())
        .add("model", "Confidence by the model", percent(1), p -> p.byModel())
        .add(
            "tested",
            "Confidence by tested " + subject.plural() + " alone",
            percent(1),
            p -> p.byTestedKits())
        .of(detail.confidenceCurve());
  }

  private static Table contents(
      FigureDetail detail, String id, String name, ClaimRequest.Subject subject) {
    return new TableBuilder<FigureDetail.ContentPoint>(
            "contents-" + id, "Figure for each share of " + subject.plural() + ", " + name)
        .note("At the asked confidence, guard bands included.")
        .add("content", "Content", percent(1), p -> p.content())
        .add("model", "Figure by the model [g]", significant(4), p -> p.byModelGrams())
        .add(
            "tested",
            "Figure by tested " + subject.plural() + " alone [g]",
            significant(4),
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
        .add("kind", "Unit", TEXT, l -> l.kind().key())
        .add("serial", "Serial", SERIAL, l -> l.serial())
        .add("bound", "Limit without it [g]", significant(4), l -> l.boundGrams())
        .add("change", "Change [g]", significant(3), l -> l.changeGrams())
        .of(detail.leftOut());
  }

  private static List<Block> words(StudyResult result, LevelClaim claim, String id) {
    ClaimWords.Wording wording = new ClaimWords(result).of(claim);
    List<Block> blocks = new ArrayList<>();
    blocks.add(Block.paragraph("For a product page, {}: {}", claim.label(), wording.productLine()));
    blocks.add(Block.paragraph("{}", wording.footnote()));
    blocks.add(
        new TableBuilder<String>("not-to-say-" + id, "What must not be said, " + claim.label())
            .add("not", "Not supported by this study", TEXT, not -> not)
            .of(wording.mustNotSay()));
    return blocks;
  }
}
