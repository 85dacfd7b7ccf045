package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.review.DecidedRuns;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.study.Design;

/** Units and runs that stand out, and what people decided about them. */
final class ReviewSection {
  private static final int PARTNERS_SHOWN = 4;

  private ReviewSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(findings(result.findings()));
    blocks.add(evidence(result.findings()));
    blocks.add(readings(result.readings()));
    blocks.add(ReviewBlocks.history(result.decisions()));
    blocks.add(excluded(result));
    blocks.addAll(ReviewBlocks.changes(result.changes()));
    return new Section(
        "review",
        "Which units stand out, and what was decided?",
        Prose.text(
            "Everything that stands out is listed with its evidence. The program excludes nothing:"
                + " a person decides, with a cause. A unit without a cause stays in, because a"
                + " buyer may receive it."),
        blocks);
  }

  private static Table findings(List<Finding> findings) {
    List<Row> rows =
        findings.stream()
            .map(
                f ->
                    Row.of(
                        Cell.text(f.target().word()),
                        Cell.text(f.serial()),
                        Cell.text(f.characteristic().title()),
                        Cell.number(f.effect()),
                        Cell.text(f.characteristic().unit()),
                        CellTexts.optional(f.modifiedZ(), "most are equal"),
                        Cell.number(f.testValue()),
                        Cell.number(f.criticalValue()),
                        Cell.text(f.favourable() ? "good" : "bad"),
                        Cell.text(f.verdict().odd().word()),
                        f.decision()
                            .map(d -> Cell.text(d.action().word() + ": " + d.cause()))
                            .orElse(Cell.missing("not decided"))))
            .toList();
    return new Table(
        "findings",
        "Units and runs that stand out",
        Table.Role.READ,
        List.of(
            Column.text("kind", "Kind"),
            Column.serial("serial", "Serial or run"),
            Column.text("characteristic", "In"),
            Column.significant("effect", "Off by", "", 3),
            Column.text("unit", "Unit"),
            Column.decimal("robust", "Robust deviations", "", 1),
            Column.decimal("test", "Test value", "", 2),
            Column.decimal("critical", "Exceeds", "", 2),
            Column.text("side", "Side"),
            Column.text("odd", "Odd is"),
            Column.text("decision", "Decision")),
        rows,
        Prose.text(
            "From all runs as recorded, before any decision. Cells and boards by their predicted"
                + " effects in the crossed model, runs by what cell and board leave over;"
                + " generalized extreme Studentized deviate test at the 5 % level, robust"
                + " deviations from the median."));
  }

  private static String evidence(Finding finding) {
    return finding.evidence().stream()
        .map(
            e ->
                e.run()
                    + " ("
                    + Design.pairName(e.cell(), e.board())
                    + "): "
                    + rounded(e.value(), 5))
        .collect(Collectors.joining("; "));
  }

  private static String partners(Finding finding) {
    List<Finding.Evidence> all = finding.partners();
    String shown =
        all.stream()
            .limit(PARTNERS_SHOWN)
            .map(e -> Design.pairName(e.cell(), e.board()) + ": " + rounded(e.value(), 5))
            .collect(Collectors.joining("; "));
    return all.size() > PARTNERS_SHOWN
        ? shown + "; and " + (all.size() - PARTNERS_SHOWN) + " more"
        : shown;
  }

  private static String rounded(double value, int digits) {
    return new java.math.BigDecimal(value)
        .round(new java.math.MathContext(digits))
        .stripTrailingZeros()
        .toPlainString();
  }

  private static Table evidence(List<Finding> findings) {
    return new Table(
        "finding-evidence",
        "What the crossed runs say about each",
        Table.Role.READ,
        List.of(
            Column.serial("serial", "Serial or run"),
            Column.text("characteristic", "In"),
            Column.text("why", "Because"),
            Column.text("evidence", "Values behind it"),
            Column.text("partners", "Its partners in other runs"),
            Column.text("signs", "Signs")),
        findings.stream()
            .map(
                f ->
                    Row.of(
                        Cell.text(f.serial()),
                        Cell.text(f.characteristic().title()),
                        Cell.text(f.verdict().why()),
                        Cell.text(evidence(f)),
                        Cell.text(partners(f)),
                        Cell.text(String.join("; ", f.signs()))))
            .toList(),
        Prose.text(
            "A unit is odd itself when it is off in the same direction with each partner, a pair"
                + " when it is off together only, a run when the pair's other runs do not show it."
                + " A rule of reading and no test; the good side is worth a look too, because a"
                + " unit can be measured too well."));
  }

  private static Table readings(List<ReadingFinding> readings) {
    List<Row> rows =
        readings.stream()
            .map(
                r ->
                    Row.of(
                        Cell.text(r.run()),
                        Cell.number(r.step()),
                        Cell.number(r.loadKilograms()),
                        Cell.number(r.deviationGrams()),
                        Cell.number(r.medianGrams()),
                        Cell.number(r.testValue()),
                        Cell.number(r.criticalValue()),
                        Cell.text(others(r)),
                        Cell.text(r.remark()),
                        Cell.text(r.source().place())))
            .toList();
    return new Table(
        "extreme-readings",
        "Single readings that stand out",
        Table.Role.READ,
        List.of(
            Column.text("run", "Run"),
            Column.count("step", "Step"),
            Column.decimal("load", "Load", "kg", 3),
            Column.significant("off", "Off its line by", "g", 3),
            Column.significant("median", "Median of all runs", "g", 3),
            Column.decimal("test", "Test value", "", 2),
            Column.decimal("critical", "Exceeds", "", 2),
            Column.text("others", "Same cell or board in other runs (g)"),
            Column.text("remark", "Remark"),
            Column.text("from", "From")),
        rows,
        Prose.text(
            "Distance from the run's own reference line, compared with all runs at the same step;"
                + " generalized extreme Studentized deviate test at 5 % shared by the steps. A unit"
                + " with an unusual bow shows here in all its runs, a slip of the bench in one"
                + " reading."));
  }

  private static String others(ReadingFinding reading) {
    return reading.sameUnits().stream()
        .map(e -> e.run() + ": " + rounded(e.value(), 3))
        .collect(Collectors.joining("; "));
  }

  private static Table excluded(StudyResult result) {
    List<Row> rows = new ArrayList<>();
    for (DecidedRuns.Excluded e : result.excluded()) {
      rows.add(
          Row.of(
              Cell.text(e.run().name()),
              Cell.text(e.run().cell()),
              Cell.text(e.run().board()),
              Cell.text(e.decision().id()),
              Cell.text(e.decision().cause())));
    }
    rows.addAll(AssumptionBlocks.missing(result.asDecided().coverage()));
    return new Table(
        "excluded",
        "Runs that the figure does not rest on",
        Table.Role.READ,
        List.of(
            Column.text("run", "Run"),
            Column.serial("cell", "Cell"),
            Column.serial("board", "Board"),
            Column.text("decision", "Decision"),
            Column.text("cause", "Cause")),
        rows,
        Prose.text(
            "The figure without the decided exclusions is printed beside every figure. A planned"
                + " run that is missing without a decision is listed as without a cause."));
  }
}
