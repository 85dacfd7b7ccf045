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
import lotproof.spread.SpreadOutcome.Component;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimRequest;

/** How far units differ and why, characteristic by characteristic. */
final class SpreadSection {
  private static final double LOT_WIDTH = 0.7;

  private SpreadSection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    List<CharacteristicSpread> spreads = result.asDecided().spreads();
    String plural = SubjectRuns.measured(result.study()).plural();
    List<Block> blocks = new ArrayList<>(SpreadTables.of(result, runs));
    sources(spreads, plural).ifPresent(blocks::add);
    ClaimRequest.Subject subject = result.study().claim().subject();
    result.comparison().spreads().stream()
        .filter(s -> s.values().key().equals(Characteristic.SENSITIVITY.key()))
        .findFirst()
        .ifPresent(
            spread -> {
              for (Role unit : List.of(Role.CELL, Role.BOARD)) {
                if (subject == ClaimRequest.Subject.KIT || subject.key().equals(unit.key())) {
                  unitSpread(result, spread.values(), unit).ifPresent(blocks::add);
                }
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

  /** Which part of the variance each source has, characteristic by characteristic. */
  private static Optional<Chart> sources(List<CharacteristicSpread> spreads, String plural) {
    List<CharacteristicSpread> estimated =
        spreads.stream().filter(spread -> spread.estimated().isPresent()).toList();
    Map<String, List<Point>> bySource = new LinkedHashMap<>();
    List<String> largest = new ArrayList<>();
    for (int row = 0; row < estimated.size(); row++) {
      List<Component> components = estimated.get(row).estimated().orElseThrow().components();
      for (Component c : components) {
        bySource
            .computeIfAbsent(c.title(), title -> new ArrayList<>())
            .add(new Point(c.shareFraction(), row));
      }
      String title = estimated.get(row).values().title().toLowerCase(Locale.ROOT);
      components.stream()
          .max(Comparator.comparingDouble(Component::variance))
          .ifPresent(c -> largest.add(title + ": " + c.title().toLowerCase(Locale.ROOT)));
    }
    return bySource.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Chart(
                new Caption(
                    "sources",
                    text("What makes %s differ?", plural),
                    text(
                        "Share of each source in the variance. The largest are: %s.",
                        String.join("; ", largest))),
                new Axis("Share of variance", "", Scale.FRACTION),
                Axis.words(
                    "Characteristic", estimated.stream().map(s -> s.values().title()).toList()),
                bySource.entrySet().stream()
                    .map(e -> new Series(e.getKey(), Look.DOTS, e.getValue()))
                    .toList(),
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
