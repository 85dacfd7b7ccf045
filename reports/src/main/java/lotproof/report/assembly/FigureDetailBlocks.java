package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.FigureDetail;
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
import lotproof.report.model.Table.Row;
import lotproof.report.model.TableBuilder;
import lotproof.study.ClaimSubject;

/** What stands behind and beside a figure, as tables and prose. */
final class FigureDetailBlocks {
  private FigureDetailBlocks() {}

  /** Everything behind and beside the figures of all levels. */
  static Section section(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    List<Block> blocks = new ArrayList<>();
    for (int i = 0; i < claims.size(); i++) {
      blocks.addAll(of(claims.get(i), i, result.study().claim().subject()));
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
  static List<Block> remedies(LevelClaim claim) {
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
                                new Block.Callout(
                                    Block.CalloutKind.FINDING,
                                    Prose.of(
                                        "{}, to reach {}: {}",
                                        Levels.name(claim),
                                        claim.form().words(wanted.wantedGrams()),
                                        remedy.sentence())))));
    return blocks;
  }

  /** Typical, characterised and guaranteed limits of all levels, side by side. */
  static Optional<Table> limitKinds(List<LevelClaim> claims, ClaimSubject subject) {
    List<Row> rows = new ArrayList<>();
    List<String> reasons = new ArrayList<>();
    for (LevelClaim claim : claims) {
      if (claim.detail().isEmpty()) {
        continue;
      }
      FigureDetail.LimitKinds limits = claim.detail().get().limits();
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(Levels.name(claim)));
      cells.add(Cell.number(limits.typicalGrams()));
      cells.add(Cell.number(limits.characterisedGrams()));
      if (limits.guaranteed() instanceof FigureDetail.GuaranteedLimit.Known known) {
        cells.add(Cell.number(known.grams()));
        cells.add(Cell.number(known.acceptanceGrams()));
        cells.add(Cell.number(known.guardGrams()));
        cells.add(Cell.number(known.yieldFraction()));
      } else {
        String reason = ((FigureDetail.GuaranteedLimit.NotKnown) limits.guaranteed()).reason();
        reasons.add(reason);
        for (int i = 0; i < 4; i++) {
          cells.add(Cell.missing("not known"));
        }
      }
      rows.add(new Row(cells));
    }
    return rows.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Table(
                "limit-kinds",
                "Three kinds of limit, not to be mistaken for each other",
                Table.Role.READ,
                List.of(
                    Column.text("level", "Calibration level"),
                    Column.significant("typical", "Typical", "g", 3),
                    Column.significant("characterised", "Characterised limit", "g", 4),
                    Column.significant("guaranteed", "Guaranteed limit", "g", 4),
                    Column.significant(
                        "acceptance", "if every " + subject.key() + " reads within", "g", 4),
                    Column.significant("guard", "with guard band", "g", 3),
                    Column.fraction("yield", "expected yield", 1)),
                rows,
                Prose.text(
                    "Typical: half of the tested "
                        + subject.plural()
                        + " stay within it, and it promises nothing for any "
                        + subject.key()
                        + ". Characterised: the asked content of "
                        + subject.plural()
                        + " lies within it, at the asked confidence, without a test of each."
                        + " Guaranteed: holds for every "
                        + subject.key()
                        + ", but only if each one is tested at these loads before it ships and"
                        + " reads within the acceptance limit. "
                        + String.join(" ", reasons.stream().distinct().toList()))));
  }

  /** Tables of one level. */
  private static List<Block> of(LevelClaim claim, int index, ClaimSubject subject) {
    List<Block> blocks = new ArrayList<>();
    claim
        .detail()
        .ifPresent(
            detail -> {
              String id = Levels.id(claim, index);
              String name = Levels.name(claim);
              blocks.add(budget(detail, id, name, subject));
              blocks.add(confidence(detail, id, name, subject));
              blocks.add(contents(detail, id, name, subject));
              if (!detail.leftOut().isEmpty()) {
                blocks.add(leftOut(detail, id, name));
              }
              blocks.addAll(words(claim, id));
            });
    return blocks;
  }

  private static Table budget(FigureDetail detail, String id, String name, ClaimSubject subject) {
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
            "The cost is what the limit at that load would lose without this contributor alone. Spreads add in squares, so their costs do not add up.")
        .add(Column.text("contributor", "Contributor"), FigureDetail.BudgetLine::title)
        .add(
            Column.text("kind", "How it enters"),
            line ->
                switch (line.kind()) {
                  case SPREAD ->
                      "differs from "
                          + subject.key()
                          + " to "
                          + subject.key()
                          + " (standard deviation)";
                  case SHIFT -> "the same for all " + subject.plural();
                  case GUARD_BAND -> "added in full";
                })
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
            "none",
            line -> onlyIf(line.costGrams(), line.grams(), Formula.of("{}", "size")))
        .of(lines);
  }

  private static boolean isSpread(FigureDetail.BudgetLine line) {
    return line.kind() == FigureDetail.BudgetLine.Kind.SPREAD;
  }

  /** The formula where it gives the value: spreads of one source at several loads are joined. */
  private static Optional<Formula> onlyIf(double value, double again, Formula formula) {
    return Math.abs(value - again) <= 1e-9 * Math.abs(value)
        ? Optional.of(formula)
        : Optional.empty();
  }

  private static Table confidence(
      FigureDetail detail, String id, String name, ClaimSubject subject) {
    List<Row> rows =
        detail.confidenceCurve().stream()
            .map(
                p ->
                    Row.of(
                        Cell.number(p.grams()),
                        Cell.number(p.byModel()),
                        Cell.number(p.byTestedKits())))
            .toList();
    return new Table(
        "sureness-" + id,
        "How sure of other figures, " + name,
        Table.Role.READ,
        List.of(
            Column.significant("figure", "Figure", "g", 4),
            Column.fraction("model", "Confidence by the model", 1),
            Column.fraction("tested", "Confidence by tested " + subject.plural() + " alone", 1)),
        rows,
        Prose.text(
            "Confidence that the asked content of "
                + subject.plural()
                + " lies within the figure."));
  }

  private static Table contents(FigureDetail detail, String id, String name, ClaimSubject subject) {
    List<Row> rows =
        detail.contentCurve().stream()
            .map(
                p ->
                    Row.of(
                        Cell.number(p.content()),
                        Cell.number(p.byModelGrams()),
                        CellTexts.optional(p.byTestedKitsGrams(), "too few " + subject.plural())))
            .toList();
    return new Table(
        "contents-" + id,
        "Which figure for which share of " + subject.plural() + ", " + name,
        Table.Role.READ,
        List.of(
            Column.fraction("content", "Content", 1),
            Column.significant("model", "Figure by the model", "g", 4),
            Column.significant(
                "tested", "Figure by tested " + subject.plural() + " alone", "g", 4)),
        rows,
        Prose.text("At the asked confidence, guard bands included."));
  }

  private static Table leftOut(FigureDetail detail, String id, String name) {
    List<Row> rows =
        detail.leftOut().stream()
            .map(
                l ->
                    Row.of(
                        Cell.text(l.kind().word()),
                        Cell.text(l.serial()),
                        Cell.number(l.boundGrams()),
                        Cell.number(l.changeGrams())))
            .toList();
    return new Table(
        "left-out-" + id,
        "How much the figure hangs on single units, " + name,
        Table.Role.READ,
        List.of(
            Column.text("kind", "Unit"),
            Column.serial("serial", "Serial"),
            Column.significant("bound", "Smallest supported figure without it", "g", 4),
            Column.significant("change", "Change", "g", 3)),
        rows,
        Prose.text(
            "The units that move the figure most when left out one at a time. A unit that moves it"
                + " is no reason to leave it out."));
  }

  private static List<Block> words(LevelClaim claim, String id) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(
        new Block.Paragraph(
            Prose.of(
                "For a product page, {}: {}", Levels.name(claim), claim.wording().productLine())));
    blocks.add(new Block.Paragraph(Prose.text(claim.wording().footnote())));
    List<Row> rows =
        claim.wording().mustNotSay().stream().map(not -> Row.of(Cell.text(not))).toList();
    blocks.add(
        new Table(
            "not-to-say-" + id,
            "What must not be said, " + Levels.name(claim),
            Table.Role.READ,
            List.of(Column.text("not", "Not supported by this study")),
            rows,
            Prose.none()));
    return blocks;
  }
}
