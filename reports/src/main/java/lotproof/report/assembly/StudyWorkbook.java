package lotproof.report.assembly;

import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.model.Workbook;
import lotproof.report.text.PlainText;
import lotproof.review.CheckStandardResult;
import lotproof.study.Characteristic;

/** The workbook of a study: its readings, and everything that a spreadsheet can compute of them. */
public final class StudyWorkbook {
  private static final String CHECK_STANDARD = "check-standard-runs";
  private static final String STANDARD_DEVIATION = "standard-deviation";

  private final StudyResult result;
  private final Report report;
  private final List<RecordedRun> runs;

  private StudyWorkbook(StudyResult result, Report report) {
    this.result = result;
    this.report = report;
    this.runs = RecordedRun.of(result);
  }

  /**
   * Assembles the workbook.
   *
   * @param report the report on the same result, most of whose tables it shows
   */
  public static Workbook of(StudyResult result, Report report) {
    StudyWorkbook workbook = new StudyWorkbook(result, report);
    LevelSheets levels = new LevelSheets(result);
    List<Sheet> sheets = new ArrayList<>(levels.sheets(workbook.table(StudySection.NUMBERS)));
    sheets.add(workbook.spread());
    workbook.lots().ifPresent(sheets::add);
    sheets.add(Sheet.of("Findings", workbook.table("findings")));
    List<Table> tests = workbook.tables("pair-limits", "jig-limits", "unit-limits");
    if (!tests.isEmpty()) {
      sheets.add(new Sheet("Production tests", tests, List.of()));
    }
    sheets.add(workbook.bench());
    sheets.add(Sheet.of("Units", RunTables.unitsAndRuns(result, workbook.runs)));
    Table readings = workbook.table(StudySection.READINGS);
    sheets.add(Sheet.of("Readings", LevelSheets.readings(readings)));
    sheets.add(Sheet.of("Method", workbook.method()));
    return new Workbook(report.identity(), levels.summary(report), sheets);
  }

  private Table table(String id) {
    return report.table(id).orElseThrow();
  }

  private List<Table> tables(String... ids) {
    return Stream.of(ids).flatMap(id -> report.table(id).stream()).toList();
  }

  /** Sources of spread of each characteristic, with their intervals. */
  private Sheet spread() {
    Table components =
        apart(
            apart(table("components"), "below", STANDARD_DEVIATION, "lower-end"),
            "above",
            "upper-end",
            STANDARD_DEVIATION);
    List<SheetChart> charts = new ArrayList<>();
    groups(components)
        .forEach((characteristic, rows) -> charts.add(spread(components, characteristic, rows)));
    List<Table> all = new ArrayList<>(tables("limits", "capability"));
    all.add(components);
    return new Sheet("Spread", all, charts);
  }

  private static SheetChart spread(Table components, String characteristic, Rows rows) {
    return new SheetChart(
        "Sources of spread: " + characteristic,
        "Standard deviation of each source with its interval.",
        Optional.of(range(components, "source", rows)),
        new Axis("Source", ""),
        new Axis(characteristic, ""),
        List.of(
            Series.of("standard deviation", Look.DOTS, range(components, STANDARD_DEVIATION, rows))
                .within(range(components, "below", rows), range(components, "above", rows))));
  }

  /** How far one column lies above another, which the intervals of a chart need. */
  private static Table apart(Table table, String key, String upper, String lower) {
    int from = table.columnIndex(lower);
    int to = table.columnIndex(upper);
    return table.beside(
        new Table.Column(key, "Interval " + key, "", significant(4)),
        row -> {
          OptionalDouble least = row.cells().get(from).number();
          OptionalDouble most = row.cells().get(to).number();
          return least.isEmpty() || most.isEmpty()
              ? Cell.missing("-")
              : Cell.number(most.getAsDouble() - least.getAsDouble())
                  .from(Formula.of("{}-{}", upper, lower));
        });
  }

  /** Rows of a table that follow one another with the same word in the first column. */
  private static Map<String, Rows> groups(Table table) {
    Map<String, Rows> groups = new LinkedHashMap<>();
    for (int r = 0; r < table.rows().size(); r++) {
      Rows row = new Rows(r, r);
      groups.merge(
          PlainText.of(table.rows().get(r).cells().get(0), table.columns().get(0)),
          row,
          (before, last) -> new Rows(before.first(), last.last()));
    }
    return groups;
  }

  private static Range range(Table table, String column, Rows rows) {
    return new Range(table.id(), column, List.of(rows));
  }

  private Optional<Sheet> lots() {
    return report
        .table("lots")
        .map(
            lots ->
                new Sheet(
                    "Lots",
                    List.of(lots),
                    groups(lots).entrySet().stream()
                        .filter(e -> e.getKey().startsWith(Characteristic.SENSITIVITY.title()))
                        .map(e -> lots(lots, e.getKey(), e.getValue()))
                        .toList()));
  }

  private static SheetChart lots(Table lots, String characteristic, Rows rows) {
    Range deviation = range(lots, STANDARD_DEVIATION, rows);
    return new SheetChart(
        characteristic + " by lot",
        "Mean of the units of each lot, plus and minus one standard deviation.",
        Optional.of(range(lots, "lot", rows)),
        new Axis("Lot", ""),
        new Axis(characteristic, ""),
        List.of(
            Series.of("mean of units", Look.DOTS, range(lots, "mean-of-unit-means", rows))
                .within(deviation, deviation)));
  }

  private Sheet bench() {
    List<Table> tables = new ArrayList<>();
    List<SheetChart> charts = new ArrayList<>();
    result
        .checkStandard()
        .ifPresent(
            check -> {
              tables.add(checkStandard(check));
              charts.add(checkStandardChart(check));
            });
    tables.add(table("data-issues"));
    return new Sheet("Bench", tables, charts);
  }

  private Table checkStandard(CheckStandardResult check) {
    Optional<CheckStandardResult.Judged> judged =
        Optional.of(check.behaviour())
            .filter(CheckStandardResult.Judged.class::isInstance)
            .map(CheckStandardResult.Judged.class::cast);
    String sensitivity = Characteristic.SENSITIVITY.key();
    Map<String, Integer> rows = RunTables.rowsOfRuns(result, runs);
    return new TableBuilder<CheckStandardResult.Run>(CHECK_STANDARD, "Runs of the check standard")
        .note("Control limits (99.7 %) from its first runs.")
        .add("Run", TEXT, CheckStandardResult.Run::name)
        .add("Session", TEXT, CheckStandardResult.Run::session)
        .add("Sensitivity [mV/V]", significant(7), CheckStandardResult.Run::sensitivity)
        .live(
            run ->
                Optional.ofNullable(rows.get(run.name()))
                    .map(row -> Formula.of("{}", Range.cell(RunTables.UNITS, sensitivity, row))))
        .add("Mean [mV/V]", significant(7), run -> check.sensitivityMean())
        .live(run -> Formula.of("AVERAGE({})", Range.column(CHECK_STANDARD, "sensitivity")))
        .missing("too few runs")
        .add("Lower control limit [mV/V]", significant(7), run -> judged.map(j -> j.lower()))
        .add("Upper control limit [mV/V]", significant(7), run -> judged.map(j -> j.upper()))
        .of(check.runs());
  }

  private static SheetChart checkStandardChart(CheckStandardResult check) {
    Rows rows = new Rows(0, check.runs().size() - 1);
    List<Series> series = new ArrayList<>();
    series.add(series("check standard", Look.DOTS, "sensitivity", rows));
    series.add(series("mean", Look.LINE, "mean", rows));
    if (check.behaviour() instanceof CheckStandardResult.Judged) {
      series.add(series("control limits", Look.EDGE, "lower-control-limit", rows));
      series.add(series("control limits", Look.EDGE, "upper-control-limit", rows));
    }
    return new SheetChart(
        "Check standard from session to session",
        "Sensitivity of the check standard run by run, with its mean and control limits.",
        Optional.of(new Range(CHECK_STANDARD, "run", List.of(rows))),
        new Axis("Run", ""),
        new Axis("Sensitivity", "mV/V"),
        series);
  }

  private static Series series(String name, Look look, String column, Rows rows) {
    return Series.of(name, look, new Range(CHECK_STANDARD, column, List.of(rows)));
  }

  private record Note(String topic, String words) {}

  /** Cautions, method, what must not be said and what words mean, one a row. */
  private Table method() {
    List<Note> notes = new ArrayList<>();
    Section method =
        report.sections().stream().filter(s -> s.id().equals("method")).findFirst().orElseThrow();
    for (Block block : method.blocks()) {
      if (block instanceof Block.Callout callout) {
        notes.add(new Note(callout.kind().word(), callout.text().text()));
      } else if (block instanceof Block.Paragraph paragraph) {
        notes.add(new Note("Method", paragraph.text().text()));
      }
    }
    for (Table.Row row : table("not-to-say").rows()) {
      notes.add(new Note("Must not be said", words(row, 0) + " (" + words(row, 1) + ")"));
    }
    for (Table.Row row : table("definitions").rows()) {
      String unit = words(row, 1).isEmpty() ? "" : " [" + words(row, 1) + "]";
      notes.add(new Note(words(row, 0) + unit, words(row, 2)));
    }
    return new TableBuilder<Note>("notes", "Method, cautions and words")
        .add("Topic", SERIAL, Note::topic)
        .add("What", TEXT, Note::words)
        .of(notes);
  }

  private static String words(Table.Row row, int column) {
    return PlainText.of(row.cells().get(column), new Table.Column("c", "c", "", TEXT));
  }
}
