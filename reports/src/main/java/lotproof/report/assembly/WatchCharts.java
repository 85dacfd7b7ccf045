package lotproof.report.assembly;

import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Series;
import lotproof.study.WatchLine;

/** The history of later lots as charts, two for each calibration level. */
public final class WatchCharts {
  private static final Axis ORDER = new Axis("Check, in the order of watch.csv", "");

  private WatchCharts() {}

  /** Mean errors and largest errors of the checked lots; none without a check. */
  public static List<Chart> of(List<WatchLine> lines) {
    Map<String, List<WatchLine>> byLevel = new LinkedHashMap<>();
    lines.forEach(l -> byLevel.computeIfAbsent(l.level(), k -> new ArrayList<>()).add(l));
    List<Chart> charts = new ArrayList<>();
    byLevel.forEach(
        (level, ofLevel) -> {
          String id = id(charts.size() / 2 + 1, level);
          charts.add(means(id + "-mean", level, ofLevel));
          charts.add(largest(id + "-largest", level, ofLevel));
        });
    return charts;
  }

  private static String id(int number, String level) {
    String plain = level.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
    String name = text("later-lots-%d-%s", number, plain);
    return name.substring(0, Math.min(40, name.length())).replaceAll("-$", "");
  }

  /** Each lot's mean against the study's, with what the latest check allowed. */
  private static Chart means(String id, String level, List<WatchLine> lines) {
    List<Point> means = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      means.add(new Point(i + 1, lines.get(i).mean().grams()));
    }
    WatchLine last = lines.get(lines.size() - 1);
    List<Mark> marks =
        List.of(
            new Mark("study", last.mean().studyGrams()),
            new Mark("lower limit", last.mean().studyGrams() - last.mean().limitGrams()),
            new Mark("upper limit", last.mean().studyGrams() + last.mean().limitGrams()));
    String place = plain(last.loadKilograms()) + " kg " + last.direction();
    return new Chart(
        new Caption(
            id,
            "Do later lots stay where the study was, at level " + level + "?",
            text(
                "Mean error at %s: %s Lines: mean of the study, and what the latest check allowed.",
                place, verdicts(lines))),
        ORDER,
        new Axis("Mean error of the lot's kits", "g"),
        List.of(new Series("mean of the lot", Look.DOTTED_LINE, means)),
        marks);
  }

  /** Each lot's largest error against the figure. */
  private static Chart largest(String id, String level, List<WatchLine> lines) {
    List<Point> largest = new ArrayList<>();
    List<Point> figures = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      largest.add(new Point(i + 1, lines.get(i).kits().largestGrams()));
      figures.add(new Point(i + 1, lines.get(i).figureGrams()));
    }
    return new Chart(
        new Caption(
            id,
            "Do later lots keep the figure, at level " + level + "?",
            "Largest error of the lot's kits beside the figure that was held against it: "
                + verdicts(lines)),
        ORDER,
        new Axis("Largest error of the lot's kits", "g"),
        List.of(
            new Series("largest error of the lot", Look.DOTTED_LINE, largest),
            new Series("figure", Look.DOTTED_LINE, figures)),
        List.of());
  }

  private static String verdicts(List<WatchLine> lines) {
    Optional<String> all =
        lines.stream()
            .map(l -> l.check() + " lot " + l.lot() + " " + l.verdict().key())
            .reduce((one, other) -> one + "; " + other);
    return all.orElse("no check") + ".";
  }
}
