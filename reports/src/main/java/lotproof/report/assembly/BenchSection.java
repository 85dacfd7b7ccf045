package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import lotproof.claim.CheckStandardResult;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.DataIssue;

/** Whether the bench was steady, and what the data lack. */
final class BenchSection {
  private BenchSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    result
        .checkStandard()
        .ifPresentOrElse(
            check -> {
              blocks.add(
                  new Block.Paragraph(
                      Prose.of(
                          "The check standard was measured {} times. Its sensitivity varied by {} of its mean (one standard deviation).",
                          Quantity.count(check.runs().size()),
                          Quantity.percent(check.sensitivityRelativeSd(), 4))));
              check.watch().ifPresent(watch -> blocks.add(steadiness(check, watch)));
              blocks.add(new Block.ChartBlock(chart(check)));
            },
            () ->
                blocks.add(
                    new Block.Callout(
                        Block.CalloutKind.CAUTION,
                        Prose.text(
                            "The study has no check standard, so a drift of the bench would pass for spread of the units."))));
    blocks.add(issues(result.issues()));
    return new Section(
        "bench", "Was the bench steady, and is anything missing?", Prose.none(), blocks);
  }

  private static Block steadiness(CheckStandardResult check, CheckStandardResult.Watch watch) {
    List<String> signalled =
        watch.alarms().stream().map(a -> check.runs().get(a.index()).name()).distinct().toList();
    String drift =
        watch.drifts()
            ? "It drifts steadily, more than chance explains, by {} from run to run."
            : "No steady drift is seen; the trend is {} from run to run.";
    String alarms =
        signalled.isEmpty()
            ? " No run lies outside the limits of a steady bench."
            : " Runs that a steady bench would hardly give: " + String.join(", ", signalled) + ".";
    Prose text = Prose.of(drift + alarms, Quantity.significant(watch.drift().slope(), "mV/V", 2));
    boolean steady = signalled.isEmpty() && !watch.drifts();
    return steady ? new Block.Paragraph(text) : new Block.Callout(Block.CalloutKind.CAUTION, text);
  }

  private static Chart chart(CheckStandardResult check) {
    List<Chart.Point> points = new ArrayList<>();
    for (int i = 0; i < check.runs().size(); i++) {
      points.add(new Chart.Point(i + 1, check.runs().get(i).sensitivity()));
    }
    List<Chart.Mark> marks = new ArrayList<>();
    marks.add(new Chart.Mark("mean", check.sensitivityMean()));
    check
        .watch()
        .ifPresent(
            watch -> {
              marks.add(new Chart.Mark("upper limit of a steady bench", watch.chart().upper()));
              marks.add(new Chart.Mark("lower limit of a steady bench", watch.chart().lower()));
            });
    return new Chart.RunOrder(
        new Chart.Caption(
            "check-standard",
            "Did the bench drift from session to session?",
            check.runs().size()
                + " runs of the check standard in order, with their mean and the limits that a steady bench keeps in 997 of 1000 runs."),
        new Chart.Axis("Run of the check standard, in order", ""),
        new Chart.Axis("Sensitivity", "mV/V"),
        List.of(new Chart.Curve("check standard", points, true)),
        marks);
  }

  private static Table issues(List<DataIssue> issues) {
    return new Table(
        "data-issues",
        "What the data lack",
        Table.Role.READ,
        List.of(
            Column.text("file", "File"),
            Column.text("unit", "Unit"),
            Column.text("message", "What is wrong")),
        issues.stream()
            .map(
                i ->
                    Row.of(
                        Cell.text(i.line() > 0 ? i.file() + ", line " + i.line() : i.file()),
                        Cell.text(i.unit()),
                        Cell.text(i.message())))
            .toList(),
        Prose.none());
  }
}
