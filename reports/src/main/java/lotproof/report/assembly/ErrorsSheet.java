package lotproof.report.assembly;

import static java.util.stream.Collectors.toList;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.claim.StudyResult;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.UnitPair;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.SheetChart.Values;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.study.ClaimForm;

/** Reading errors of every run at every calibration level, and the edges of figures around them. */
final class ErrorsSheet {
  private static final String ID = "errors";
  private static final String NONE = "-";
  private static final String LARGEST = "largest-that-counts";

  /** A spreadsheet's chart takes at most 255 series, of which a run needs two. */
  private static final int MOST_DRAWN = 120;

  /** Falling errors stand beside rising ones by this part of the largest load. */
  private static final double ASIDE = 0.02;

  private final ClaimForm form;
  private final List<ReportedLevel> levels;
  private final List<Step> steps = new ArrayList<>();
  private final List<Line> lines = new ArrayList<>();

  /** Rows of the runs of a level, by its position. */
  private final Map<Integer, Rows> runsOf = new HashMap<>();

  /** A column: the first, second ... time that a load is reached from below or from above. */
  private record Step(double loadKilograms, Direction direction, int time) {
    String key() {
      return "at-" + title().toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
    }

    String title() {
      String again = time == 1 ? "" : ", " + time;
      return plain(loadKilograms) + " kg " + direction.word() + again;
    }
  }

  /** A row: a run, or an edge of a figure with a look of its own. */
  private record Line(
      Optional<ReportedLevel> level,
      String run,
      Optional<UnitPair> pair,
      Map<Step, Cell> errors,
      Cell largest,
      Optional<Look> edge) {
    boolean isEdgeOf(ReportedLevel other) {
      return edge.isPresent() && level.filter(own -> own.index() == other.index()).isPresent();
    }
  }

  ErrorsSheet(StudyResult result, List<ReportedLevel> levels) {
    this.form = result.study().claim().form();
    this.levels = levels.stream().filter(level -> !level.claim().curves().isEmpty()).toList();
    RunFormulas formulas = new RunFormulas(result);
    Map<String, LoadRun> runs = new HashMap<>();
    result.runs().forEach(run -> runs.put(run.name(), run));
    for (ReportedLevel level : this.levels) {
      List<ErrorCurve> curves = level.claim().curves();
      List<Step> own = stepsOf(curves.get(0));
      own.stream().filter(step -> !steps.contains(step)).forEach(steps::add);
      runsOf.put(level.index(), new Rows(lines.size(), lines.size() + curves.size() - 1));
      for (ErrorCurve curve : curves) {
        lines.add(line(level, curve, own, formulas, Optional.ofNullable(runs.get(curve.run()))));
      }
    }
    for (ReportedLevel level : this.levels) {
      level
          .figure()
          .ifPresent(f -> addEdges(level, Look.EDGE, f.printableGrams(), LevelSheets.PRINTABLE));
      level
          .claim()
          .wanted()
          .ifPresent(w -> addEdges(level, Look.WANTED, w.wantedGrams(), LevelSheets.WANTED));
    }
    addPlaces();
  }

  /** Where the errors stand in charts, which have a number for each load. */
  private void addPlaces() {
    double largest = steps.stream().mapToDouble(Step::loadKilograms).max().orElse(1);
    Map<Step, Cell> places = new LinkedHashMap<>();
    for (Step step : steps) {
      double aside = step.direction() == Direction.RISING ? 0 : ASIDE * largest;
      places.put(step, Cell.number(step.loadKilograms() + aside));
    }
    Cell none = Cell.missing(NONE);
    String name = "kg in charts";
    lines.add(new Line(Optional.empty(), name, Optional.empty(), places, none, Optional.empty()));
  }

  private static List<Step> stepsOf(ErrorCurve curve) {
    List<Step> steps = new ArrayList<>();
    for (ErrorCurve.Point point : curve.points()) {
      Step step = new Step(point.loadKilograms(), point.direction(), 1);
      while (steps.contains(step)) {
        step = new Step(step.loadKilograms(), step.direction(), step.time() + 1);
      }
      steps.add(step);
    }
    return steps;
  }

  private Line line(
      ReportedLevel level,
      ErrorCurve curve,
      List<Step> own,
      RunFormulas formulas,
      Optional<LoadRun> run) {
    Map<Step, Cell> errors = new LinkedHashMap<>();
    Map<String, Double> weights = new LinkedHashMap<>();
    for (int i = 0; i < own.size(); i++) {
      int step = i;
      Cell error = Cell.number(curve.points().get(i).errorGrams());
      errors.put(
          own.get(i),
          run.flatMap(r -> formulas.error(level.claim(), r, step)).map(error::from).orElse(error));
      weights.put(own.get(i).key(), form.weight(own.get(i).loadKilograms()));
    }
    Cell largest = Cell.number(curve.largestGrams(form));
    return new Line(
        Optional.of(level),
        curve.run(),
        Optional.of(curve),
        errors,
        formulas.largest(form, weights).map(largest::from).orElse(largest),
        Optional.empty());
  }

  /** Both edges of a figure over the loads; of a figure on one side only that. */
  private void addEdges(ReportedLevel level, Look look, double grams, String column) {
    Range figure = LevelSheets.cell(level, column);
    String name = look == Look.WANTED ? "wanted" : "printable";
    for (double sign : form.twoSided() ? new double[] {1, -1} : new double[] {form.sign()}) {
      Map<Step, Cell> edge = new LinkedHashMap<>();
      for (Step step : steps) {
        double weight = sign * form.weight(step.loadKilograms());
        edge.put(step, Cell.number(grams * weight).from(Formula.of("{}*{}", figure, weight)));
      }
      String run = name + (sign > 0 ? " +" : " \u2212");
      Cell none = Cell.missing(NONE);
      lines.add(new Line(Optional.of(level), run, Optional.empty(), edge, none, Optional.of(look)));
    }
  }

  /** The largest error of a level's runs that counts. */
  Formula largest(ReportedLevel level) {
    return Formula.of("MAX({})", column(level, LARGEST));
  }

  private Range column(ReportedLevel level, String column) {
    return new Range(ID, column, List.of(Objects.requireNonNull(runsOf.get(level.index()))));
  }

  /** The sheet; none where no level has errors. */
  Optional<Sheet> sheet() {
    if (lines.isEmpty()) {
      return Optional.empty();
    }
    TableBuilder<Line> table =
        new TableBuilder<Line>(ID, "Reading error of each run")
            .note("{}", RunTables.note(form))
            .add("Calibration level", TEXT, l -> l.level().map(ReportedLevel::label).orElse(""))
            .add("Run", TEXT, Line::run)
            .missing(NONE)
            .add("Cell", SERIAL, line -> line.pair().map(UnitPair::cell))
            .add("Board", SERIAL, line -> line.pair().map(UnitPair::board));
    for (Step step : steps) {
      table.add(
          new Column(step.key(), step.title(), "g", significant(4)),
          line -> Optional.ofNullable(line.errors().get(step)));
    }
    table.add("Largest that counts [g]", significant(4), Line::largest);
    return Optional.of(
        new Sheet("Errors", List.of(table.of(lines)), levels.stream().map(this::chart).toList()));
  }

  private SheetChart chart(ReportedLevel level) {
    List<ErrorCurve> curves = level.claim().curves();
    List<ErrorCurve> drawn =
        Downsampled.keepingExtremes(curves, MOST_DRAWN, curve -> curve.largestGrams(form));
    int places = lines.size() - 1;
    List<Series> series = new ArrayList<>();
    for (int row = 0; row < lines.size(); row++) {
      if (lines.get(row).isEdgeOf(level)) {
        Look look = lines.get(row).edge().orElseThrow();
        String name = look == Look.WANTED ? "wanted" : "printable";
        series.add(Series.of(name, look, between(steps, row), places));
      }
    }
    int first = Objects.requireNonNull(runsOf.get(level.index())).first();
    Map<Direction, List<Step>> ways =
        steps.stream().collect(Collectors.groupingBy(Step::direction, TreeMap::new, toList()));
    ways.forEach(
        (way, its) -> {
          for (ErrorCurve curve : drawn) {
            int row = first + curves.indexOf(curve);
            series.add(Series.of(way.word(), Look.DOTS, between(its, row), places));
          }
        });
    return new SheetChart(
        "Reading error of every run, " + level.label(),
        curves.size() + " runs" + Downsampled.words(curves, drawn, "with the largest errors") + ".",
        Optional.empty(),
        new Axis("Load, falling at the right of rising", "kg"),
        new Axis("Reading error", "g"),
        series);
  }

  /** The cells of a row at some steps, which follow one another. */
  private static Values.Row between(List<Step> steps, int row) {
    return new Values.Row(ID, steps.get(0).key(), steps.get(steps.size() - 1).key(), row);
  }
}
