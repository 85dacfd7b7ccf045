package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
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
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimRequest;
import lotproof.study.UnitKind;

/** How far units differ and why, characteristic by characteristic. */
final class SpreadSection {
  private static final double LOT_WIDTH = 0.7;

  private SpreadSection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    List<CharacteristicSpread> spreads = result.asDecided().spreads();
    String plural = SubjectRuns.measured(result.study()).plural();
    Optional<Chart> sources = sources(spreads, plural);
    List<Block> blocks = new ArrayList<>();
    sources.ifPresent(blocks::add);
    blocks.addAll(SpreadTables.of(result, runs));
    return new Section(
        "spread",
        "Sources of spread",
        Prose.text(sources.map(chart -> chart.caption().answer()).orElse("Not known.")),
        blocks);
  }

  /** How lots differ, of the kinds that the claim is about; empty where no lot is known. */
  static Optional<Section> lots(StudyResult result) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    List<Role> units =
        Stream.of(Role.CELL, Role.BOARD)
            .filter(unit -> subject == ClaimRequest.Subject.KIT || subject.key().equals(unit.key()))
            .toList();
    return spread(result.comparison().spreads())
        .flatMap(spread -> unitMeans(result, spread.values(), units))
        .map(chart -> new Section("lots", "Lots", shares(result, units), List.of(chart)));
  }

  private static Optional<CharacteristicSpread> spread(List<CharacteristicSpread> spreads) {
    return spreads.stream()
        .filter(s -> s.values().key().equals(Characteristic.SENSITIVITY.key()))
        .findFirst();
  }

  /** How much of the variance of sensitivity is between lots. */
  private static Prose shares(StudyResult result, List<Role> units) {
    List<Role> lots = units.stream().map(SpreadSection::lotOf).toList();
    String shares =
        spread(result.asDecided().spreads()).flatMap(CharacteristicSpread::estimated).stream()
            .flatMap(estimated -> estimated.components().stream())
            .filter(c -> lots.contains(c.role()))
            .map(
                c ->
                    c.title().toLowerCase(Locale.ROOT)
                        + " "
                        + Quantity.percent(c.shareFraction(), 0))
            .collect(Collectors.joining(", "));
    return Prose.text(
        shares.isEmpty()
            ? "How lots differ is not known."
            : "Share of lots in the variance of sensitivity: " + shares + ".");
  }

  private static Role lotOf(Role unit) {
    return unit == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
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
  private static Optional<Chart> unitMeans(
      StudyResult result, MeasuredValues values, List<Role> kinds) {
    Set<String> excluded =
        result.excluded().stream().map(e -> e.decision().serial()).collect(Collectors.toSet());
    List<String> names = new ArrayList<>();
    List<Point> used = new ArrayList<>();
    List<Point> leftOut = new ArrayList<>();
    for (Role kind : kinds) {
      Optional<List<String>> units = values.labelsOf(kind);
      Optional<List<String>> lots = values.labelsOf(lotOf(kind));
      if (units.isEmpty() || lots.isEmpty()) {
        continue;
      }
      // the study names its lots in their natural order
      Map<String, Map<String, List<Double>>> byLot = new LinkedHashMap<>();
      result.study().units().lots(kind == Role.CELL ? UnitKind.CELL : UnitKind.BOARD).stream()
          .map(lot -> lot.name())
          .filter(lots.get()::contains)
          .forEach(lot -> byLot.put(lot, new LinkedHashMap<>()));
      for (int i = 0; i < values.values().size(); i++) {
        byLot
            .computeIfAbsent(lots.get().get(i), lot -> new LinkedHashMap<>())
            .computeIfAbsent(units.get().get(i), unit -> new ArrayList<>())
            .add(values.values().get(i));
      }
      byLot.forEach(
          (lot, ofLot) -> {
            int place = names.size();
            names.add(lot);
            int i = 0;
            for (Map.Entry<String, List<Double>> one : ofLot.entrySet()) {
              double mean = one.getValue().stream().mapToDouble(v -> v).average().orElseThrow();
              // spread over the lot's width, so that equal values stay apart
              double x = place + LOT_WIDTH * ((i++ + 0.5) / ofLot.size() - 0.5);
              (excluded.contains(one.getKey()) ? leftOut : used)
                  .add(new Point(x, mean, one.getKey()));
            }
          });
    }
    return names.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Chart(
                new Caption(
                    values.key() + "-by-lot",
                    text("Do lots differ in %s?", values.title().toLowerCase(Locale.ROOT)),
                    "Each dot is a unit: the mean over its partners."),
                Axis.words("Lot", names),
                new Axis(values.title(), values.unit()),
                List.of(
                    new Series("used", Look.DOTS, used),
                    new Series("excluded", Look.DOTS, leftOut)),
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
