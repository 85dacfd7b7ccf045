package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.Component;
import lotproof.spread.DistributionFreeLimits;
import lotproof.spread.GroupSummary;
import lotproof.spread.InfluenceEffect;
import lotproof.spread.SpreadOutcome;
import lotproof.spread.ToleranceLimits;
import lotproof.statistics.Interval;
import lotproof.statistics.capability.CapabilityIndices;

/** Tables of a spread, for a study's report and for a bare table of results. */
final class SpreadBlocks {
  private static final int DIGITS = 5;

  /** A longer table is looked up, not read. */
  private static final int ROWS_TO_READ = 14;

  private SpreadBlocks() {}

  /**
   * Components, limits, distribution-free limits, capability and lots.
   *
   * @param spreads the spreads that count
   * @param withoutExclusions the same characteristics without any exclusion, for comparison
   * @param plural what was measured: kits, or cells or boards on one partner
   */
  static List<Block> tables(
      List<CharacteristicSpread> spreads,
      List<CharacteristicSpread> withoutExclusions,
      String plural) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(components(spreads, plural));
    blocks.add(limits(spreads, withoutExclusions, plural));
    blocks.add(distributionFree(spreads, plural));
    for (Table table : List.of(influences(spreads), capability(spreads, plural), lots(spreads))) {
      if (!table.rows().isEmpty()) {
        blocks.add(table);
      }
    }
    blocks.addAll(CheckBlocks.of(spreads));
    return blocks;
  }

  /** What the reader must know about the models, each remark once. */
  static List<Block> notes(List<CharacteristicSpread> spreads) {
    List<String> notes = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      String title = spread.values().title();
      if (spread.outcome() instanceof SpreadOutcome.Estimated estimated) {
        notes.addAll(estimated.notes());
        estimated.caveats().forEach(caveat -> notes.add(title + ": " + caveat.sentence()));
      } else {
        notes.add(title + ": " + ((SpreadOutcome.NotEstimable) spread.outcome()).reason());
      }
    }
    return notes.stream()
        .distinct()
        .<Block>map(note -> new Block.Callout(Block.CalloutKind.FINDING, Prose.text(note)))
        .toList();
  }

  /** The characteristic with its unit of measure, which the numbers beside it carry. */
  static Cell name(CharacteristicSpread spread) {
    String unit = spread.values().unit();
    return Cell.text(spread.values().title() + (unit.isEmpty() ? "" : " [" + unit + "]"));
  }

  private static Table components(List<CharacteristicSpread> spreads, String plural) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      for (Component c :
          spread.estimated().map(SpreadOutcome.Estimated::components).orElse(List.of())) {
        rows.add(
            Row.of(
                name(spread),
                Cell.text(c.title()),
                Cell.number(c.levels()),
                Cell.number(c.standardDeviation()),
                CellTexts.optional(c.interval().map(Interval::lower), "not computed"),
                CellTexts.optional(c.interval().map(Interval::upper), "not computed"),
                Cell.number(c.shareFraction()),
                Cell.number(c.unconstrainedVariance()),
                Cell.text(c.atBoundary() ? "not detectable" : "found")));
      }
    }
    return new Table(
        "components",
        "What makes " + plural + " differ",
        Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.text("source", "Source"),
            Column.count("levels", "Number"),
            Column.significant("sd", "Standard deviation", "", DIGITS),
            Column.significant("sd-lower", "Interval from", "", DIGITS),
            Column.significant("sd-upper", "to", "", DIGITS),
            Column.fraction("share", "Share of variance", 1),
            Column.significant("raw-variance", "Variance, unconstrained", "", 4),
            Column.text("state", "State")),
        rows,
        Prose.text(
            "Restricted maximum likelihood; profile-likelihood intervals, widened for few degrees"
                + " of freedom. An estimate at zero is not detectable with these data, which does"
                + " not make it absent; its raw variance may be negative."));
  }

  private static Table influences(List<CharacteristicSpread> spreads) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      for (InfluenceEffect e :
          spread.estimated().map(SpreadOutcome.Estimated::influences).orElse(List.of())) {
        rows.add(
            Row.of(
                name(spread),
                Cell.text(e.influence()),
                Cell.text(e.per()),
                Cell.number(e.estimate()),
                Cell.number(e.standardError()),
                Cell.number(e.interval().lower()),
                Cell.number(e.interval().upper()),
                Cell.text(e.toldFromZero() ? "moves it" : "not told from none")));
      }
    }
    return new Table(
        "influences",
        "What else moves readings, and was taken out",
        rows.size() > ROWS_TO_READ ? Table.Role.EVIDENCE : Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.text("influence", "Influence"),
            Column.text("per", "Change"),
            Column.significant("estimate", "Estimate", "", DIGITS),
            Column.significant("standard-error", "Standard error", "", DIGITS),
            Column.significant("lower", "Interval from", "", DIGITS),
            Column.significant("upper", "to", "", DIGITS),
            Column.text("state", "Finding")),
        rows,
        Prose.text(
            "Estimated together with the components (generalised least squares, Satterthwaite's"
                + " degrees of freedom). Mean and limits are at the average of each influence over"
                + " the study; the figures of a claim do not take influences out."));
  }

  private static Table limits(
      List<CharacteristicSpread> spreads,
      List<CharacteristicSpread> withoutExclusions,
      String plural) {
    boolean compared = !spreads.equals(withoutExclusions);
    boolean fewLots =
        spreads.stream()
            .flatMap(s -> s.estimated().stream())
            .anyMatch(e -> e.withinTheseLots().isPresent());
    List<Column> columns =
        new ArrayList<>(
            List.of(
                Column.text("characteristic", "Characteristic"),
                Column.count("runs", "Runs"),
                Column.significant("mean", "Mean", "", DIGITS + 1),
                Column.significant("total-sd", "Standard deviation of " + plural, "", DIGITS)));
    columns.addAll(lowerAndUpper("", ""));
    if (compared) {
      columns.addAll(lowerAndUpper("-without", " without exclusions"));
    }
    if (fewLots) {
      columns.addAll(lowerAndUpper("-these", ", these lots only"));
    }
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < spreads.size(); i++) {
      if (spreads.get(i).outcome() instanceof SpreadOutcome.Estimated e) {
        ToleranceLimits total = e.limits();
        List<Cell> cells =
            new ArrayList<>(
                List.of(
                    name(spreads.get(i)),
                    Cell.number(spreads.get(i).values().values().size()),
                    Cell.number(e.mean()),
                    Cell.number(total.totalStandardDeviation())));
        cells.addAll(lowerAndUpper(Optional.of(total), ""));
        if (compared) {
          Optional<ToleranceLimits> without =
              withoutExclusions.get(i).estimated().map(SpreadOutcome.Estimated::limits);
          cells.addAll(lowerAndUpper(without, "not estimable"));
        }
        if (fewLots) {
          cells.addAll(lowerAndUpper(e.withinTheseLots(), "lots are not few"));
        }
        rows.add(new Row(cells));
      }
    }
    return new Table(
        "limits",
        "Limits that a future " + plural.substring(0, plural.length() - 1) + " keeps",
        Table.Role.READ,
        columns,
        rows,
        Prose.text(
            "Two-sided, at the content and confidence that were asked, by the model of normal"
                + " components; exact factors where no unit was measured twice."));
  }

  private static List<Column> lowerAndUpper(String keyEnd, String titleEnd) {
    return List.of(
        Column.significant("lower" + keyEnd, "Lower" + titleEnd, "", DIGITS + 1),
        Column.significant("upper" + keyEnd, "Upper" + titleEnd, "", DIGITS + 1));
  }

  private static List<Cell> lowerAndUpper(Optional<ToleranceLimits> limits, String missing) {
    return List.of(
        CellTexts.optional(limits.map(ToleranceLimits::lower), missing),
        CellTexts.optional(limits.map(ToleranceLimits::upper), missing));
  }

  private static Table distributionFree(List<CharacteristicSpread> spreads, String plural) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      spread
          .distributionFree()
          .ifPresent(
              (DistributionFreeLimits d) ->
                  rows.add(
                      Row.of(
                          name(spread),
                          Cell.number(d.testedKits()),
                          Cell.number(d.disjointKits()),
                          Cell.number(d.smallest()),
                          Cell.number(d.largest()),
                          Cell.number(d.confidenceTwoLimits()),
                          Cell.number(d.confidenceOneLimit()),
                          Cell.number(d.supportedContentOneLimit()),
                          Cell.number(d.kitsNeededOneLimit()))));
    }
    return new Table(
        "distribution-free",
        "What the tested " + plural + " say without a model",
        Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.count("kits", CellTexts.capital(plural) + " tested"),
            Column.count("disjoint", CellTexts.capital(plural) + " that share no unit"),
            Column.significant("smallest", "Smallest seen", "", DIGITS + 1),
            Column.significant("largest", "Largest seen", "", DIGITS + 1),
            Column.fraction("both", "Confidence for the content between them", 1),
            Column.fraction("one", "Confidence for the content beyond one of them", 1),
            Column.fraction("supported", "Content that one of them supports", 1),
            Column.count("needed", CellTexts.capital(plural) + " needed for one of them")),
        rows,
        Prose.text(
            "Order statistics of "
                + plural
                + " that share no unit. Smallest and largest seen are not limits: the confidence"
                + " beside them says what they are worth."));
  }

  private static Table capability(List<CharacteristicSpread> spreads, String plural) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      spread
          .estimated()
          .flatMap(SpreadOutcome.Estimated::capability)
          .ifPresent(
              (CapabilityIndices c) ->
                  rows.add(
                      Row.of(
                          Cell.text(spread.values().title()),
                          CellTexts.optional(c.pp(), "one limit only"),
                          CellTexts.optional(c.ppInterval().map(Interval::lower), "one limit only"),
                          CellTexts.optional(c.ppInterval().map(Interval::upper), "one limit only"),
                          Cell.number(c.ppk()),
                          Cell.number(c.ppkInterval().lower()),
                          Cell.number(c.ppkInterval().upper()),
                          Cell.number(c.fractionBelow() + c.fractionAbove()))));
    }
    return new Table(
        "capability",
        "How " + plural + " lie within the study's limits",
        Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.decimal("pp", "Pp", "", 3),
            Column.decimal("pp-lower", "Pp from", "", 3),
            Column.decimal("pp-upper", "to", "", 3),
            Column.decimal("ppk", "Ppk", "", 3),
            Column.decimal("ppk-lower", "Ppk from", "", 3),
            Column.decimal("ppk-upper", "to", "", 3),
            Column.fraction("outside", "Kits outside, if normal", 4)),
        rows,
        Prose.text(
            "Overall spread of "
                + plural
                + ", lots included (ISO 22514-2 performance indices), with the degrees of freedom"
                + " of the model. Small fractions outside lean on the normal shape."));
  }

  private static Table lots(List<CharacteristicSpread> spreads) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      for (GroupSummary lot : spread.lots()) {
        rows.add(
            Row.of(
                name(spread),
                Cell.text(lot.role().key()),
                Cell.text(lot.lot()),
                Cell.number(lot.units()),
                Cell.number(lot.mean()),
                Cell.number(lot.standardDeviation()),
                Cell.number(lot.smallest()),
                Cell.number(lot.largest())));
      }
    }
    return new Table(
        "lots",
        "Lot by lot",
        Table.Role.EVIDENCE,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.text("kind", "Kind"),
            Column.text("lot", "Lot"),
            Column.count("units", "Units"),
            Column.significant("mean", "Mean of unit means", "", DIGITS + 1),
            Column.significant("sd", "Standard deviation", "", DIGITS),
            Column.significant("smallest", "Smallest", "", DIGITS + 1),
            Column.significant("largest", "Largest", "", DIGITS + 1)),
        rows,
        Prose.text("Plain figures of unit means; partners and bench are not taken out."));
  }
}
