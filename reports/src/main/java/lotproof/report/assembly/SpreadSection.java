package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.review.DecidedRuns;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.SpreadOutcome;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;

/** How far units differ and why, characteristic by characteristic. */
final class SpreadSection {
  private static final double LOT_WIDTH = 0.7;

  private SpreadSection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    List<CharacteristicSpread> spreads = result.asDecided().spreads();
    String plural = SubjectRuns.measured(result.study()).plural();
    List<Block> blocks = new ArrayList<>(SpreadTables.of(result, runs));
    for (CharacteristicSpread spread : spreads) {
      shares(spread, plural).ifPresent(chart -> blocks.add(chart));
    }
    result.comparison().spreads().stream()
        .filter(s -> s.values().key().equals(Characteristic.SENSITIVITY.key()))
        .findFirst()
        .ifPresent(
            spread -> {
              for (Role unit : List.of(Role.CELL, Role.BOARD)) {
                unitSpread(result, spread.values(), unit).ifPresent(chart -> blocks.add(chart));
              }
            });
    return new Section(
        "spread",
        "How far do units differ, and why?",
        Prose.of(
            "Components of variation with {} intervals, limits that a future {} keeps, and"
                + " capability against the study's limits.",
            Quantity.percent(result.study().claim().confidence(), 0),
            SubjectRuns.measured(result.study()).key()),
        blocks);
  }

  private static Optional<Chart> shares(CharacteristicSpread spread, String plural) {
    if (!(spread.outcome() instanceof SpreadOutcome.Estimated estimated)) {
      return Optional.empty();
    }
    MeasuredValues values = spread.values();
    List<Component> components = estimated.components();
    List<Point> found = new ArrayList<>();
    List<Point> atZero = new ArrayList<>();
    for (int row = 0; row < components.size(); row++) {
      Component c = components.get(row);
      Optional<Chart.Interval> interval =
          c.interval().map(i -> new Chart.Interval(i.lower(), i.upper()));
      (c.atBoundary() ? atZero : found).add(new Point(c.standardDeviation(), row, "", interval));
    }
    String largest =
        components.stream()
            .max(Comparator.comparingDouble(Component::variance))
            .map(c -> c.title().toLowerCase(Locale.ROOT))
            .orElse("");
    return Optional.of(
        new Chart(
            new Caption(
                "shares-" + values.key(),
                text(
                    "What makes %s differ in %s?", plural, values.title().toLowerCase(Locale.ROOT)),
                text(
                    "Standard deviation of each source with its interval; the largest is: %s.",
                    largest)),
            new Axis("Standard deviation", values.unit(), Scale.FROM_ZERO),
            Axis.words("Source", components.stream().map(Component::title).toList()),
            List.of(
                new Series("estimate", Look.DOTS, found),
                new Series("zero: not detectable", Look.DOTS, atZero)),
            List.of()));
  }

  /** Mean of each unit over its partners, by lot; excluded units are drawn too. */
  private static Optional<Chart> unitSpread(StudyResult result, MeasuredValues values, Role unit) {
    Role lotRole = unit == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
    Optional<List<String>> units = values.labelsOf(unit);
    Optional<List<String>> lots = values.labelsOf(lotRole);
    if (units.isEmpty() || lots.isEmpty()) {
      return Optional.empty();
    }
    Map<String, Map<String, List<Double>>> byLot = new TreeMap<>();
    for (int i = 0; i < values.values().size(); i++) {
      byLot
          .computeIfAbsent(lots.get().get(i), l -> new LinkedHashMap<>())
          .computeIfAbsent(units.get().get(i), u -> new ArrayList<>())
          .add(values.values().get(i));
    }
    Set<String> excluded = new HashSet<>();
    for (DecidedRuns.Excluded e : result.excluded()) {
      if (e.decision().target().key().equals(unit.key())) {
        excluded.add(e.decision().serial());
      }
    }
    List<Point> used = new ArrayList<>();
    List<Point> leftOut = new ArrayList<>();
    List<String> names = List.copyOf(byLot.keySet());
    for (int lot = 0; lot < names.size(); lot++) {
      Map<String, List<Double>> ofLot = Objects.requireNonNull(byLot.get(names.get(lot)));
      int i = 0;
      for (Map.Entry<String, List<Double>> one : ofLot.entrySet()) {
        double mean = one.getValue().stream().mapToDouble(v -> v).average().orElseThrow();
        // spread over the lot's width, so that equal values stay apart
        double x = lot + LOT_WIDTH * ((i++ + 0.5) / ofLot.size() - 0.5);
        (excluded.contains(one.getKey()) ? leftOut : used).add(new Point(x, mean, one.getKey()));
      }
    }
    return Optional.of(
        new Chart(
            new Caption(
                values.key() + "-by-" + unit.key() + "-lot",
                text(
                    "Do %s lots differ in %s?",
                    unit.key(), values.title().toLowerCase(Locale.ROOT)),
                text(
                    "Each dot is one %s, the mean over its partners, in %s lots.",
                    unit.key(), byLot.size())),
            Axis.words("Lot", names),
            new Axis(values.title(), values.unit()),
            List.of(
                new Series("used", Look.DOTS, used), new Series("excluded", Look.DOTS, leftOut)),
            marks(result)));
  }

  private static List<Mark> marks(StudyResult result) {
    Limits limits = result.study().limits().get(Characteristic.SENSITIVITY);
    List<Mark> marks = new ArrayList<>();
    if (limits != null) {
      limits.lower().ifPresent(v -> marks.add(new Mark("lower limit", v)));
      limits.upper().ifPresent(v -> marks.add(new Mark("upper limit", v)));
    }
    return marks;
  }
}
