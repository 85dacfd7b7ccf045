package lotproof.app;

import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lotproof.plan.design.DesignKind;
import lotproof.plan.rehearse.DesignAssessment;
import lotproof.plan.rehearse.DesignComparison;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.report.model.Cell;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchPlan;
import lotproof.study.PlannedRun;
import org.jspecify.annotations.Nullable;

/** What {@code plan} shows. */
final class PlanScreen {
  private static final Cell NONE = Cell.missing("-");

  private final Surroundings io;
  private final Palette palette;

  PlanScreen(Surroundings io, Palette palette) {
    this.io = io;
    this.palette = palette;
  }

  void show(
      DesignComparison comparison,
      DesignKind chosen,
      BenchPlan plan,
      PlannedClaim question,
      List<String> written,
      @Nullable Path folder) {
    assumed(plan.assumed());
    Screen screen = new Screen(io.out(), palette);
    io.out().println();
    screen.show(support(comparison));
    io.out().println();
    screen.show(precision(comparison));
    io.out().println();
    screen.show(missing(comparison));
    io.out()
        .println(
            text(
                "Without a model, ±largest error holds for %.4g %% of kits at %.4g %% confidence"
                    + " from %d independent kits on.",
                100 * question.content(),
                100 * question.confidence(),
                comparison.kitsForDistributionFree()));
    io.out().println();
    io.out().println(palette.strong("Recommended: " + comparison.advice().design()));
    comparison.advice().reasons().forEach(reason -> io.out().println("  " + reason));
    comparison
        .advice()
        .warnings()
        .forEach(warning -> io.out().println(palette.no("  Mind: ") + warning));
    if (!chosen.key().equals(comparison.advice().design())) {
      io.out().println("Planned as asked for: " + chosen.key());
    }
    if (folder == null) {
      io.out().println("Nothing was written; name a study folder to write the plan.");
    } else {
      written(chosen, plan, written, folder);
    }
    io.out().flush();
  }

  private void assumed(AssumedSpread a) {
    io.out().println(text("Taken to be true (%s): %s.", a.origin(), words(a)));
  }

  /** An assumed spread in words. */
  static String words(AssumedSpread a) {
    return text(
        "mean %s g; cells %s g (%.0f %% of the variance between lots), boards %s g (%.0f %%),"
            + " pairing %s g, repeat %s g",
        number(a.meanGrams()),
        number(a.cellGrams()),
        100 * a.cellLotShare(),
        number(a.boardGrams()),
        100 * a.boardLotShare(),
        number(a.pairingGrams()),
        number(a.repeatGrams()));
  }

  /** Three digits, no zeros behind. */
  static String number(double value) {
    return new BigDecimal(value)
        .round(new MathContext(3))
        .add(BigDecimal.ZERO)
        .stripTrailingZeros()
        .toPlainString();
  }

  private static Table support(DesignComparison comparison) {
    List<Row> rows = new ArrayList<>();
    for (DesignAssessment d : comparison.designs()) {
      Optional<DesignAssessment.Support> s = d.support();
      rows.add(
          new Row(
              List.of(
                  Cell.text(d.design()),
                  Cell.number(d.runs()),
                  Cell.number(d.sessions()),
                  Cell.number(d.benchHours()),
                  s.map(x -> Cell.number(x.medianFigureGrams())).orElse(NONE),
                  s.map(x -> Cell.number(x.unluckyFigureGrams())).orElse(NONE),
                  s.map(x -> Cell.number(x.penalty())).orElse(NONE),
                  s.flatMap(DesignAssessment.Support::chance).map(Cell::number).orElse(NONE),
                  Cell.number(d.disjointKits()),
                  s.isPresent() ? Cell.number(d.supportedContent()) : NONE,
                  d.lotFactor().map(Cell::number).orElse(NONE))));
    }
    return Screen.table(
        "support",
        "What each design can support",
        List.of(
            Column.text("design", "Design"),
            Column.count("runs", "Runs"),
            Column.count("sessions", "Sessions"),
            Column.decimal("hours", "Hours", "h", 1),
            Column.decimal("median", "Figure, median", "g", 0),
            Column.decimal("unlucky", "Figure, 95 % of studies", "g", 0),
            Column.decimal("penalty", "Over the true", "", 2),
            Column.fraction("chance", "Chance of the wanted", 0),
            Column.count("kits", "Kits without shared unit"),
            Column.fraction("content", "Content without model", 1),
            Column.decimal("lots", "Cost of few lots", "", 2)),
        rows);
  }

  private static Table precision(DesignComparison comparison) {
    List<Row> rows = new ArrayList<>();
    for (DesignAssessment d : comparison.designs()) {
      List<Cell> cells = new ArrayList<>(List.of(Cell.text(d.design())));
      for (String name : List.of("cell", "board")) {
        cells.add(error(d, name));
      }
      Optional<DesignAssessment.ComponentPrecision> rest =
          d.components().stream()
              .filter(c -> c.component().equals("pair") || c.component().startsWith("pairing"))
              .findFirst();
      cells.add(
          rest.flatMap(DesignAssessment.ComponentPrecision::relativeStandardError)
              .map(Cell::number)
              .orElse(NONE));
      cells.add(error(d, "repeat"));
      cells.add(Cell.number(d.totalRelativeStandardError()));
      cells.add(Cell.number(d.precisionPerRun()));
      rows.add(new Row(cells));
    }
    return Screen.table(
        "precision",
        "Expected standard error of each spread, as a part of it; disjoint pairs = 1 for each run",
        List.of(
            Column.text("design", "Design"),
            Column.fraction("cell", "Cells", 1),
            Column.fraction("board", "Boards", 1),
            Column.fraction("pairing", "Pairing", 1),
            Column.fraction("repeat", "Repeat", 1),
            Column.fraction("total", "Whole kit", 1),
            Column.decimal("per-run", "Precision per run", "", 2)),
        rows);
  }

  private static Cell error(DesignAssessment d, String component) {
    return d.components().stream()
        .filter(c -> c.component().equals(component))
        .findFirst()
        .flatMap(DesignAssessment.ComponentPrecision::relativeStandardError)
        .map(Cell::number)
        .orElse(NONE);
  }

  private static Table missing(DesignComparison comparison) {
    return Screen.table(
        "missing",
        "What stays unknown",
        List.of(Column.text("design", "Design"), Column.text("missing", "Not estimated")),
        comparison.designs().stream()
            .map(
                d ->
                    Screen.row(
                        d.design(),
                        d.missing().isEmpty() ? "nothing" : String.join("; ", d.missing())))
            .toList());
  }

  private void written(DesignKind chosen, BenchPlan plan, List<String> written, Path folder) {
    int days = plan.runs().stream().mapToInt(PlannedRun::day).max().orElse(0);
    long checks = plan.runs().stream().filter(PlannedRun::isCheck).count();
    io.out()
        .println(
            text(
                "Written to %s: %d files, %d runs and %d of the check standard on %d days.",
                folder, written.size(), plan.runs().size() - checks, checks, days));
    if (checks == 0) {
      io.out()
          .println(
              palette.no("  Mind: ")
                  + "there is no check standard; nothing will tell a drifting bench from drifting"
                  + " units. Name one with --check CELL/BOARD.");
    }
    io.out().println("Read bench/preparation.txt before the first reading. Then:");
    if (chosen != DesignKind.REFERENCE_PARTNER) {
      io.out().println("  lotproof rehearse " + folder);
    }
    io.out().println("  lotproof enter " + folder + "   or fill in bench/*.xlsx and import them");
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
