package lotproof.report.assembly;

import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ReviewWords;
import lotproof.review.CheckStandardResult;
import lotproof.study.DataIssue;

/** Whether the bench was steady, and what the data lack. */
final class BenchSection {
  private BenchSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    if (result.checkStandard().isPresent()) {
      CheckStandardResult check = result.checkStandard().get();
      blocks.add(
          Block.paragraph(
              "The check standard was measured {} times. Its sensitivity varied by {} of its mean"
                  + " (one standard deviation).",
              Quantity.count(check.runs().size()),
              Quantity.percent(check.sensitivityRelativeSd(), 4)));
      boolean steady =
          check.behaviour() instanceof CheckStandardResult.Judged judged && judged.steady();
      String words = ReviewWords.of(check.behaviour());
      blocks.add(steady ? Block.paragraph("{}", words) : Block.caution("{}", words));
      blocks.add(chart(check));
    } else {
      blocks.add(
          Block.caution(
              "The study has no check standard, so a drift of the bench would pass for spread of"
                  + " the units."));
    }
    blocks.add(issues(result.issues()));
    String steady =
        result
            .checkStandard()
            .map(CheckStandardResult::behaviour)
            .map(
                behaviour ->
                    behaviour instanceof CheckStandardResult.Judged judged
                        ? judged.steady() ? "The bench was steady" : "The bench was not steady"
                        : "Whether the bench was steady is not known")
            .orElse("No check standard was measured");
    int count = result.issues().size();
    String issues =
        count == 1 ? "1 point is doubtful or missing" : count + " points are doubtful or missing";
    return new Section("bench", "Bench", Prose.of("{}; {} in the data.", steady, issues), blocks);
  }

  private static Chart chart(CheckStandardResult check) {
    List<Chart.Point> points = new ArrayList<>();
    for (int i = 0; i < check.runs().size(); i++) {
      points.add(new Chart.Point(i + 1, check.runs().get(i).sensitivity()));
    }
    List<Chart.Mark> marks = new ArrayList<>();
    marks.add(new Chart.Mark("mean", check.sensitivityMean()));
    if (check.behaviour() instanceof CheckStandardResult.Judged judged) {
      marks.add(new Chart.Mark("upper control limit", judged.upper()));
      marks.add(new Chart.Mark("lower control limit", judged.lower()));
    }
    return new Chart(
        new Chart.Caption(
            "check-standard",
            "Did the bench drift from session to session?",
            text(
                "%s runs of the check standard in order, with their mean and control limits (99.7"
                    + " %%).",
                check.runs().size())),
        new Chart.Axis("Run of the check standard, in order", ""),
        new Chart.Axis("Sensitivity", "mV/V"),
        List.of(new Chart.Series("check standard", Chart.Look.DOTTED_LINE, points)),
        marks);
  }

  private static Table issues(List<DataIssue> issues) {
    return new TableBuilder<DataIssue>("data-issues", "Missing or doubtful data")
        .add("File", TEXT, i -> i.line() > 0 ? i.file() + ", line " + i.line() : i.file())
        .add("Unit", SERIAL, DataIssue::unit)
        .add("Problem", TEXT, DataIssue::message)
        .of(issues);
  }
}
