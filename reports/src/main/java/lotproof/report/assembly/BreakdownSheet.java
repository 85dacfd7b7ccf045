package lotproof.report.assembly;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lotproof.claim.FigureChange.Cause;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.Addend;
import lotproof.claim.LevelClaim;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.TableBuilder;

/** What adds up to the printable figure of each calibration level, as a table and as bars. */
final class BreakdownSheet {
  private static final String ID = "breakdown";

  private final List<Part> parts = new ArrayList<>();

  /** Rows of a level, by its position; none where nothing is known to add up. */
  private final Map<Integer, Rows> rowsOf = new TreeMap<>();

  /**
   * A row.
   *
   * @param row its position
   * @param first that of the first row of its level
   * @param addend what it adds; absent where it shows a figure
   * @param before what the addends before it come to; 0 for a figure
   * @param grams what it adds, or the figure
   * @param from cell of the level that has the figure, or none
   */
  private record Part(
      int row,
      int first,
      ReportedLevel level,
      String title,
      Optional<Addend> addend,
      double before,
      double grams,
      Optional<Range> from) {
    boolean is(Cause cause) {
      return addend.filter(a -> a.cause() == cause).isPresent();
    }

    Optional<Double> added(double number) {
      return addend.map(a -> number);
    }
  }

  BreakdownSheet(List<ReportedLevel> levels) {
    for (ReportedLevel level : levels) {
      level.claim().detail().map(FigureDetail::sum).ifPresent(sum -> add(level, sum));
    }
  }

  private void add(ReportedLevel level, List<Addend> sum) {
    int first = parts.size();
    double reached = 0;
    for (Addend addend : sum) {
      parts.add(
          new Part(
              parts.size(),
              first,
              level,
              LevelCharts.title(addend),
              Optional.of(addend),
              reached,
              addend.grams(),
              Optional.empty()));
      reached += addend.grams();
    }
    double printable = level.safest().printableGrams();
    addFigure(level, first, "Printable figure", printable, LevelSheets.PRINTABLE);
    level
        .claim()
        .wanted()
        .map(LevelClaim.Verdict::wantedGrams)
        .ifPresent(wanted -> addFigure(level, first, "Wanted figure", wanted, LevelSheets.WANTED));
    rowsOf.put(level.index(), new Rows(first, parts.size() - 1));
  }

  private void addFigure(
      ReportedLevel level, int first, String title, double grams, String column) {
    Optional<Range> cell = Optional.of(LevelSheets.cell(level, column));
    parts.add(new Part(parts.size(), first, level, title, Optional.empty(), 0, grams, cell));
  }

  /** The guard bands of a level; empty where it has none. */
  Optional<Formula> guardBands(ReportedLevel level) {
    List<Rows> rows =
        Rows.where(parts, part -> part.level().index() == level.index() && part.is(Cause.ADDED));
    return rows.isEmpty()
        ? Optional.empty()
        : Optional.of(Formula.of("SUM({})", new Range(ID, "adds", rows)));
  }

  Sheet sheet() {
    return new Sheet(
        "Breakdown",
        List.of(
            new TableBuilder<Part>(ID, "What adds up to the printable figure")
                .note("At the load where the limit is widest.")
                .add("Calibration level", TEXT, part -> part.level().label())
                .add("Part", TEXT, Part::title)
                .missing("-")
                .add("Adds [g]", significant(4), part -> part.added(part.grams()))
                .live(this::adds)
                .add(
                    "Reaches [g]", significant(5), part -> part.added(part.before() + part.grams()))
                .live(part -> Formula.of("{}+{}", before(part), "adds"))
                .add("Figure [g]", significant(5), part -> part.from().map(from -> part.grams()))
                .live(part -> part.from().map(from -> Formula.of("{}", from)))
                .add(
                    "Bar from [g]",
                    significant(5),
                    part -> part.added(part.before() + Math.min(0, part.grams())))
                .live(part -> Formula.of("MIN({},{})", before(part), "reaches"))
                .beside()
                .add("Bar [g]", significant(4), part -> part.added(Math.abs(part.grams())))
                .live(part -> Formula.of("ABS({})", "adds"))
                .beside()
                .of(parts)),
        rowsOf.values().stream().map(this::chart).toList());
  }

  /** What follows from the readings and the step; the rest is constants of the model. */
  private Optional<Formula> adds(Part part) {
    ReportedLevel level = part.level();
    if (part.is(Cause.ROUNDING)) {
      Range printable = LevelSheets.cell(level, LevelSheets.PRINTABLE);
      return Optional.of(
          Formula.of("{}-{}", printable, LevelSheets.cell(level, LevelSheets.LIMIT)));
    }
    // first come mean, spread and the cost of not knowing them
    return part.is(Cause.ALL_LOADS)
        ? Optional.of(
            Formula.of(
                "MAX({},{})-SUM({})",
                LevelSheets.origin(level, LevelSheets.MODEL),
                LevelSheets.origin(level, LevelSheets.TESTED),
                new Range(ID, "adds", List.of(new Rows(part.first(), part.row() - 1)))))
        : Optional.empty();
  }

  /** What the parts before one come to. */
  private static Object before(Part part) {
    return part.row() == part.first() ? 0 : Range.cell(ID, "reaches", part.row() - 1);
  }

  private SheetChart chart(Rows of) {
    List<Rows> rows = List.of(of);
    return new SheetChart(
        "How the printable figure adds up, " + parts.get(of.first()).level().label(),
        "Bars from zero to the printable figure, and the wanted figure below it.",
        Optional.of(new Range(ID, "part", rows)),
        new Axis("Figure", "g"),
        new Axis("Part", ""),
        List.of(
            Series.of("from", Look.BASE, new Range(ID, "bar-from", rows)),
            Series.of("adds", Look.BARS, new Range(ID, "bar", rows)),
            Series.of("figure", Look.BARS, new Range(ID, "figure", rows))));
  }
}
