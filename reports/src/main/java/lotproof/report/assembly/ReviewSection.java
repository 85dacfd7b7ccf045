package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.claim.StudyResult;
import lotproof.reduce.LoadRun;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.review.DecidedRuns;
import lotproof.review.Finding;
import lotproof.study.Decision;

/** Units and runs that stand out, and what people decided about them. */
final class ReviewSection {
  private ReviewSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(findings(result.findings()));
    blocks.add(decisions(result.decisions()));
    blocks.add(excluded(result.excluded()));
    return new Section(
        "review",
        "Which units stand out, and what was decided?",
        Prose.text(
            "Everything that stands out is listed with its evidence. The program excludes nothing: a person decides, with a cause. A unit without a cause stays in, because a buyer may receive it."),
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
                        Texts.optional(f.modifiedZ(), "most are equal"),
                        Cell.number(f.testValue()),
                        Cell.number(f.criticalValue()),
                        Cell.text(evidence(f)),
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
            Column.text("evidence", "Values behind it"),
            Column.text("decision", "Decision")),
        rows,
        Prose.text(
            "From all runs as recorded, before any decision. Cells and boards by their predicted effects in the crossed model, runs by what cell and board leave over; generalized extreme Studentized deviate test at the 5 % level, robust deviations from the median."));
  }

  private static String evidence(Finding finding) {
    return finding.evidence().stream()
        .map(
            e ->
                e.run()
                    + " ("
                    + LoadRun.pairName(e.cell(), e.board())
                    + "): "
                    + new java.math.BigDecimal(e.value())
                        .round(new java.math.MathContext(5))
                        .stripTrailingZeros()
                        .toPlainString())
        .collect(Collectors.joining("; "));
  }

  private static Table decisions(List<Decision> decisions) {
    return new Table(
        "decisions",
        "Decisions",
        Table.Role.READ,
        List.of(
            Column.text("id", "Decision"),
            Column.text("when", "When"),
            Column.text("who", "Who"),
            Column.text("action", "Action"),
            Column.text("target", "About"),
            Column.serial("serial", "Serial or run"),
            Column.text("cause", "Cause"),
            Column.text("evidence", "Evidence")),
        decisions.stream()
            .map(
                d ->
                    Row.of(
                        Cell.text(d.id()),
                        Cell.text(d.time()),
                        Cell.text(d.who()),
                        Cell.text(action(d)),
                        Cell.text(d.target().word()),
                        Cell.text(d.serial()),
                        Cell.text(d.cause()),
                        Cell.text(d.evidence())))
            .toList(),
        Prose.none());
  }

  private static String action(Decision decision) {
    return switch (decision.action()) {
      case CORRECTED ->
          "corrected " + decision.field().orElse("") + " to " + decision.value().orElse("");
      case WITHDRAWN -> "withdrawn " + decision.value().orElse("");
      default -> decision.action().word();
    };
  }

  private static Table excluded(List<DecidedRuns.Excluded> excluded) {
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
        excluded.stream()
            .map(
                e ->
                    Row.of(
                        Cell.text(e.run().name()),
                        Cell.text(e.run().cell()),
                        Cell.text(e.run().board()),
                        Cell.text(e.decision().id()),
                        Cell.text(e.decision().cause())))
            .toList(),
        Prose.text("The figure without these exclusions is printed beside every figure."));
  }
}
