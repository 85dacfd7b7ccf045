package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.spread.BenchShare;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.DataCheck;
import lotproof.spread.SpreadOutcome;

/** The checks of the data behind a spread, and what repeats say of the bench. */
final class CheckBlocks {
  /** A longer table is looked up, not read. */
  private static final int ROWS_TO_READ = 14;

  private CheckBlocks() {}

  /** A line on how many checks were made, what is notable, and the table of all. */
  static List<Block> of(List<CharacteristicSpread> spreads) {
    List<DataCheck.Done> done = spreads.stream().flatMap(CheckBlocks::done).toList();
    List<Block> blocks = new ArrayList<>();
    if (!done.isEmpty()) {
      long notable = done.stream().filter(DataCheck.Done::notable).count();
      blocks.add(
          new Block.Paragraph(
              Prose.of(
                  "The data were looked at in {} ways for values far out, unequal scatter, two"
                      + " heaps and an order; {} found something. With nothing wrong at all, about"
                      + " one in a hundred does.",
                  Quantity.count(done.size()),
                  Quantity.count(notable))));
      Table found = notable(spreads);
      if (!found.rows().isEmpty()) {
        blocks.add(found);
      }
      blocks.add(all(spreads));
    }
    Table bench = bench(spreads);
    if (!bench.rows().isEmpty()) {
      blocks.add(bench);
    }
    return blocks;
  }

  private static Stream<DataCheck.Done> done(CharacteristicSpread spread) {
    return spread.checks().stream()
        .filter(DataCheck.Done.class::isInstance)
        .map(DataCheck.Done.class::cast);
  }

  private static Table notable(List<CharacteristicSpread> spreads) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      done(spread)
          .filter(DataCheck.Done::notable)
          .forEach(
              check ->
                  rows.add(
                      Row.of(
                          Cell.text(spread.values().title()),
                          Cell.text(check.title()),
                          Cell.text(String.join(", ", check.pointsAt())),
                          Cell.text(check.sentence()))));
    }
    return new Table(
        "checks-notable",
        "What is worth a look",
        Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.text("check", "Check"),
            Column.text("points-at", "Points at"),
            Column.text("meaning", "What it means")),
        rows,
        Prose.none());
  }

  private static Table all(List<CharacteristicSpread> spreads) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      for (DataCheck check : spread.checks()) {
        rows.add(row(spread, check));
      }
    }
    return new Table(
        "checks",
        "All checks of the data",
        rows.size() > ROWS_TO_READ ? Table.Role.EVIDENCE : Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.text("key", "Key"),
            Column.text("check", "Check"),
            Column.text("about", "Looked at"),
            Column.significant("statistic", "Figure", "", 5),
            Column.significant("critical", "Critical value", "", 5),
            Column.significant("p-value", "Chance without cause", "", 3),
            Column.text("points-at", "Points at"),
            Column.text("meaning", "What it means")),
        rows,
        Prose.text(
            "Units are judged by their predicted effects, so that partners are taken out. A check"
                + " points at something; it takes nothing out."));
  }

  private static Row row(CharacteristicSpread spread, DataCheck check) {
    if (check instanceof DataCheck.Done done) {
      return Row.of(
          Cell.text(spread.values().title()),
          Cell.text(done.key()),
          Cell.text(done.title()),
          Cell.text(done.about()),
          Cell.number(done.statistic()),
          optional(done.criticalValue()),
          optional(done.pValue()),
          Cell.text(String.join(", ", done.pointsAt())),
          Cell.text(done.sentence()));
    }
    DataCheck.NotDone not = (DataCheck.NotDone) check;
    return Row.of(
        Cell.text(spread.values().title()),
        Cell.text(not.key()),
        Cell.text(not.title()),
        Cell.text(not.about()),
        Cell.missing("not done"),
        Cell.missing("not done"),
        Cell.missing("not done"),
        Cell.text(""),
        Cell.text(not.reason()));
  }

  private static Cell optional(OptionalDouble value) {
    return value.isPresent() ? Cell.number(value.getAsDouble()) : Cell.missing("none");
  }

  private static Table bench(List<CharacteristicSpread> spreads) {
    List<Row> rows = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      spread
          .estimated()
          .flatMap(SpreadOutcome.Estimated::bench)
          .ifPresent(
              (BenchShare b) ->
                  rows.add(
                      Row.of(
                          SpreadBlocks.name(spread),
                          Cell.number(b.degreesOfFreedom()),
                          Cell.number(b.standardDeviation()),
                          Cell.number(b.interval().lower()),
                          Cell.number(b.interval().upper()),
                          Cell.number(b.shareOfTotal()),
                          b.shareOfTolerance().isPresent()
                              ? Cell.number(b.shareOfTolerance().getAsDouble())
                              : Cell.missing("no two limits"),
                          Cell.number(Math.floor(b.distinctCategories())),
                          Cell.text(b.basis()))));
    }
    return new Table(
        "bench-share",
        "How much of it is the bench",
        Table.Role.READ,
        List.of(
            Column.text("characteristic", "Characteristic"),
            Column.count("df", "Degrees of freedom"),
            Column.significant("sd", "Standard deviation of measuring", "", 4),
            Column.significant("sd-lower", "Interval from", "", 4),
            Column.significant("sd-upper", "to", "", 4),
            Column.fraction("of-total", "Of the total", 1),
            Column.fraction("of-tolerance", "Of the tolerance", 1),
            Column.count("categories", "Kinds of kit told apart"),
            Column.text("basis", "From")),
        rows,
        Prose.text(
            "Shares by standard deviations: measuring over the total, six of measuring over the"
                + " width between the limits. Kinds told apart are 1.41 times kits over measuring,"
                + " rounded down."));
  }
}
