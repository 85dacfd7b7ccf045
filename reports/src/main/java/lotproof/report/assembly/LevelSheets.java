package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.Tested;
import lotproof.claim.StudyResult;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Level;
import lotproof.report.model.Report;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.model.Workbook.Entry;
import lotproof.report.model.Workbook.Summary;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/**
 * What the workbook says of calibration levels: its first sheet, and those with all levels in a
 * table. Verdicts, margins and warnings follow readings, wanted figures and the step of figures.
 */
final class LevelSheets {
  static final String WANTED = "wanted";
  static final String PRINTABLE = "printable-figure";
  static final String LIMIT = "limit";
  static final String MODEL = "limit-by-the-model";
  static final String TESTED = "largest-tested-error";

  private static final String ID = "levels";
  private static final String ORIGINS = "origins";
  private static final String MARGIN = "margin";
  private static final String SHARE = "share-of-wanted-used";
  private static final String VERDICT = "verdict";
  private static final String EXCLUDED_IN = "limit-with-excluded-units";
  private static final String YES = "supported";
  private static final String NO = "not supported";
  private static final String NONE = "-";
  private static final String NO_FIGURE = "no figure";
  private static final String VERDICT_RESTS = "The verdict rests on an exclusion.";
  private static final String MARGIN_RESTS = "The margin rests on an exclusion.";

  /** Columns of readings that formulas take. */
  private static final String[] READINGS = {"load", "output", "noise"};

  private static final String[] NUMBERS = {
    "rated-capacity",
    "default-factor",
    "converter-scale",
    "content",
    "confidence",
    "step-of-figures"
  };

  private final StudyResult result;
  private final ClaimRequest request;
  private final ClaimForm form;
  private final List<ReportedLevel> levels;
  private final BreakdownSheet breakdown;
  private final ErrorsSheet errors;

  LevelSheets(StudyResult result) {
    this.result = result;
    this.request = result.study().claim();
    this.form = request.form();
    this.levels = ReportedLevel.of(result);
    this.breakdown = new BreakdownSheet(levels);
    this.errors = new ErrorsSheet(result, levels);
  }

  /** The cell of a level in the table of levels. */
  static Range cell(ReportedLevel level, String column) {
    return Range.cell(ID, column, level.index());
  }

  /** The readings, with what was recorded beside what formulas take. */
  static Table readings(Table readings) {
    return readings.withRecord(READINGS);
  }

  /**
   * The sheets in order.
   *
   * @param numbers what everything is computed with
   */
  List<Sheet> sheets(Table numbers) {
    List<Sheet> sheets = new ArrayList<>();
    sheets.add(
        new Sheet("Levels", List.of(levels(), origins(), numbers.withRecord(NUMBERS)), shares()));
    sheets.add(breakdown.sheet());
    errors.sheet().ifPresent(sheets::add);
    return sheets;
  }

  private List<SheetChart> shares() {
    List<Rows> rows = List.of(new Rows(0, Math.max(0, levels.size() - 1)));
    return levels.stream().noneMatch(level -> level.usedFraction().isPresent())
        ? List.of()
        : List.of(
            new SheetChart(
                "Share of the wanted figure that the limit takes",
                "One bar a calibration level; above 100 % the wanted figure is not supported.",
                Optional.of(new Range(ID, "calibration-level", rows)),
                new Axis("Limit over wanted figure", "", Scale.FRACTION),
                new Axis("Calibration level", ""),
                List.of(Series.of("share", Look.BARS, new Range(ID, SHARE, rows)))));
  }

  private Table levels() {
    String sign = form.twoSided() ? " ±" : "";
    TableBuilder<ReportedLevel> table =
        new TableBuilder<ReportedLevel>(ID, "Printable figure by calibration level")
            .note(
                "The printable figure is the limit rounded outward to the step of figures.{}",
                ReportedLevel.formNote(form))
            .add("Calibration level", TEXT, ReportedLevel::label)
            .missing(NONE)
            .add("Wanted" + sign + " [g]", EXACT, LevelSheets::wanted)
            .add("Verdict", TEXT, LevelSheets::verdict)
            .missing(NO_FIGURE)
            .add(
                "Printable figure" + sign + " [g]",
                EXACT,
                level -> level.figure().map(Figure::printableGrams))
            .live(level -> Formula.roundedOutward(LIMIT, StudySection.number("step-of-figures")))
            .add("Limit [g]", significant(5), level -> level.figure().map(Figure::limitGrams))
            .live(
                level ->
                    Formula.of(
                        "MAX({},{})+{}",
                        origin(level, MODEL),
                        origin(level, TESTED),
                        origin(level, "guard-bands")))
            .add("Margin [g]", significant(4), LevelSheets::margin)
            .add("Share of wanted used", percent(1), LevelSheets::share)
            .add("Warning", TEXT, this::warning)
            .add(
                "With excluded units" + sign + " [g]",
                EXACT,
                level -> level.withoutExclusions().map(Figure::printableGrams))
            .add(
                "Limit with excluded units [g]",
                significant(5),
                level -> level.withoutExclusions().map(Figure::limitGrams));
    if (levels.stream().anyMatch(level -> theseLots(level).isPresent())) {
      table.add("For these lots only" + sign + " [g]", EXACT, LevelSheets::theseLots);
    }
    return table.of(levels).withRecord(WANTED);
  }

  private static OptionalDouble wanted(ReportedLevel level) {
    return level.claim().wanted().stream().mapToDouble(LevelClaim.Verdict::wantedGrams).findFirst();
  }

  private static OptionalDouble theseLots(ReportedLevel level) {
    return level.figure().map(Figure::withinTheseLotsGrams).orElse(OptionalDouble.empty());
  }

  private static OptionalDouble tested(ReportedLevel level, ToDoubleFunction<Tested> number) {
    return level.figure().isEmpty() ? OptionalDouble.empty() : FigureSection.tested(level, number);
  }

  /** Where limits come from, and what the tested units say without a model. */
  private Table origins() {
    Range content = StudySection.number("content");
    Range confidence = StudySection.number("confidence");
    return new TableBuilder<ReportedLevel>(ORIGINS, "Where the limits come from")
        .note(
            "The limit is the larger of model and largest tested error plus the guard bands."
                + " Without a model: the confidence that the asked share of {} stays within the"
                + " largest tested error, and the share that they support at the asked confidence.",
            request.subject().plural())
        .add("Calibration level", TEXT, ReportedLevel::label)
        .missing(NO_FIGURE)
        .add("Limit by the model [g]", significant(5), l -> l.figure().map(Figure::modelGrams))
        .missing("none alone")
        .add("Largest tested error [g]", significant(5), l -> tested(l, Tested::largestGrams))
        .live(this::largest)
        .missing(NO_FIGURE)
        .add("Guard bands [g]", significant(4), l -> l.figure().map(f -> f.guards().totalGrams()))
        .live(breakdown::guardBands)
        .missing("none alone")
        .add("Tested", COUNT, l -> tested(l, Tested::kits))
        .add("Independent", COUNT, l -> tested(l, Tested::disjointKits))
        .add("Confidence without a model", percent(1), l -> tested(l, Tested::confidence))
        .live(l -> Formula.of("1-{}^{}", content, "independent"))
        .add("Share supported", percent(1), l -> tested(l, Tested::contentFraction))
        .live(l -> Formula.of("(1-{})^(1/{})", confidence, "independent"))
        .of(levels);
  }

  /** The cell of a level in the table of origins. */
  static Range origin(ReportedLevel level, String column) {
    return Range.cell(ORIGINS, column, level.index());
  }

  /** From the errors of all runs, where they are those that the figure rests on. */
  private Optional<Formula> largest(ReportedLevel level) {
    double seen =
        level.claim().curves().stream().mapToDouble(c -> c.largestGrams(form)).max().orElse(-1);
    return Math.abs(seen - level.safest().tested().largestGrams()) < 1e-9
        ? Optional.of(errors.largest(level))
        : Optional.empty();
  }

  private static Cell margin(ReportedLevel level) {
    OptionalDouble margin =
        level.claim().wanted().map(LevelClaim.Verdict::marginGrams).orElse(OptionalDouble.empty());
    return ifWanted(level, margin, Formula.of("{}-{}", WANTED, LIMIT));
  }

  private static Cell share(ReportedLevel level) {
    return ifWanted(level, level.usedFraction(), Formula.of("{}/{}", LIMIT, WANTED));
  }

  /** A number that is there once somebody wants a figure. */
  private static Cell ifWanted(ReportedLevel level, OptionalDouble number, Formula formula) {
    Cell cell = number.isPresent() ? Cell.number(number.getAsDouble()) : Cell.missing(NONE);
    return live(level, cell, formula);
  }

  private static Cell verdict(ReportedLevel level) {
    String verdict = level.claim().wanted().map(w -> w.supported() ? YES : NO).orElse(NONE);
    Formula formula =
        Formula.of("IF({}>={},{},{})", WANTED, LIMIT, Formula.words(YES), Formula.words(NO));
    return live(level, Cell.text(verdict), formula);
  }

  /** What is known of a wanted figure, also of one that is typed where none was. */
  private static Cell live(ReportedLevel level, Cell cell, Formula formula) {
    return level.figure().isEmpty()
        ? cell
        : cell.from(Formula.of("IF(ISNUMBER({}),{},{})", WANTED, formula, Formula.words(NONE)));
  }

  /** Whether one unit sets the limit, and what takes a verdict or most of its margin away. */
  private Cell warning(ReportedLevel level) {
    if (level.figure().isEmpty()) {
      return Cell.text("");
    }
    String one = "One " + request.subject().key() + " sets the limit. ";
    boolean set = level.safest().tested().largestGrams() > level.safest().modelGrams();
    String words = set ? one : "";
    Formula formula =
        Formula.of(
            "IF(AND(ISNUMBER({}),{}>{}),{},{})",
            origin(level, TESTED),
            origin(level, TESTED),
            origin(level, MODEL),
            Formula.words(one),
            Formula.words(""));
    if (!result.excluded().isEmpty()) {
      OptionalDouble left = level.marginWithExcluded();
      words +=
          left.isPresent() && left.getAsDouble() < 0
              ? VERDICT_RESTS
              : level.restsOnExclusions() ? MARGIN_RESTS : "";
      formula = Formula.of("{}&{}", formula, restsOnExclusions());
    }
    return Cell.text(words).from(formula);
  }

  private static Formula restsOnExclusions() {
    Formula most =
        Formula.of(
            "IF({}-{}<{}/2,{},{})",
            WANTED,
            EXCLUDED_IN,
            MARGIN,
            Formula.words(MARGIN_RESTS),
            Formula.words(""));
    Formula turned =
        Formula.of(
            "IF(ISNUMBER({}),IF({}<{},{},{}),{})",
            EXCLUDED_IN,
            WANTED,
            EXCLUDED_IN,
            Formula.words(VERDICT_RESTS),
            most,
            Formula.words(VERDICT_RESTS));
    return Formula.of("IF({}={},{},{})", VERDICT, Formula.words(YES), turned, Formula.words(""));
  }

  /** The first sheet, with what the report says first. */
  Summary summary(Report report) {
    List<Entry> entries = new ArrayList<>();
    levels.forEach(level -> entries.add(new Entry(level.name(), sentence(level))));
    for (Level level : report.levels()) {
      if (level.leading()) {
        addAll(entries, "Claim", Stream.of(level.sentence()));
        addAll(entries, "Risks", level.risks().stream().map(risk -> risk.prose().text()));
      }
    }
    addAll(entries, "Conditions", report.identity().conditions().stream());
    return new Summary(
        ReportedLevel.leading(result)
            .map(this::answer)
            .orElse(Cell.text("The study asks for no calibration level.")),
        status(),
        entries);
  }

  private static void addAll(List<Entry> entries, String label, Stream<String> words) {
    String[] left = {label};
    words
        .filter(text -> !text.isBlank())
        .forEach(
            text -> {
              entries.add(new Entry(left[0], Cell.text(text)));
              left[0] = "";
            });
  }

  /** What is said of the first level whose wanted figure is supported, or else of the leading. */
  private Cell answer(ReportedLevel leading) {
    Formula verdict = behind(sentence(leading));
    for (int i = levels.size() - 1; i >= 0; i--) {
      ReportedLevel level = levels.get(i);
      if (level.figure().isPresent()) {
        verdict =
            Formula.of(
                "IF({}={},{},{})",
                cell(level, VERDICT),
                Formula.words(YES),
                behind(sentence(level)),
                verdict);
      }
    }
    return Cell.text(((Cell.Text) sentence(leading)).text()).from(verdict);
  }

  private static Formula behind(Cell sentence) {
    return sentence.formula().orElse(Formula.words(((Cell.Text) sentence).text()));
  }

  /** The question about a level and the answer. */
  private Cell sentence(ReportedLevel level) {
    String after = " " + level.after();
    if (level.figure().isEmpty()) {
      return Cell.text("No figure is supported" + after + ".");
    }
    String support = "The data support " + form.words(level.safest().printableGrams());
    String text =
        level
            .claim()
            .wanted()
            .map(
                w ->
                    "Print "
                        + form.words(w.wantedGrams())
                        + after
                        + (w.supported() ? "? Yes. " : "? No. ")
                        + support
                        + ".")
            .orElse(support + after + ".");
    Formula supported =
        Formula.of("{}&{}", Formula.words("The data support "), words(cell(level, PRINTABLE)));
    return Cell.text(text)
        .from(
            Formula.of(
                "IF(ISNUMBER({}),{}&{}&{}&IF({}={},{},{})&{}&{},{}&{})",
                cell(level, WANTED),
                Formula.words("Print "),
                words(cell(level, WANTED)),
                Formula.words(after),
                cell(level, VERDICT),
                Formula.words(YES),
                Formula.words("? Yes. "),
                Formula.words("? No. "),
                supported,
                Formula.words("."),
                supported,
                Formula.words(after + ".")));
  }

  /** A figure as it is printed, from its cell. */
  private Formula words(Range grams) {
    if (form instanceof ClaimForm.OfReading share) {
      Formula percent =
          Formula.of("{}*{}", grams, 100 * share.readingFraction() / share.constantGrams());
      // outward to three digits, as the program rounds it
      return Formula.of(
          "{}&ROUNDUP(ROUND({},9),2-INT(LOG10({})))&{}&{}&{}",
          Formula.words("±("),
          percent,
          percent,
          Formula.words(" % of reading + "),
          grams,
          Formula.words(" g)"));
    }
    String[] around = form.words(1).split("1", 2);
    return Formula.of("{}&{}&{}", Formula.words(around[0]), grams, Formula.words(around[1]));
  }

  /** Whether all inputs are as recorded. */
  private static Cell status() {
    Formula readings = changed(StudySection.READINGS, READINGS);
    Formula wanted = changed(ID, WANTED);
    Formula numbers = changed(StudySection.NUMBERS, NUMBERS);
    String same = "As recorded: everything here is the program's result.";
    return Cell.text(same)
        .from(
            Formula.of(
                "IF({}+{}+{}=0,{},{}&{}&{}&{}&{}&{}&{})",
                readings,
                wanted,
                numbers,
                Formula.words(same),
                Formula.words("CHANGED: "),
                readings,
                Formula.words(" of the readings, "),
                wanted,
                Formula.words(" of the wanted figures, "),
                numbers,
                Formula.words(
                    " of the study's numbers differ from the record. Formulas follow; constants of"
                        + " the model do not. Run lotproof report for a new result.")));
  }

  /** How many cells of some columns differ from what was recorded. */
  private static Formula changed(String table, String... columns) {
    List<Formula> counts =
        Stream.of(columns)
            .map(
                column ->
                    Formula.of(
                        "SUMPRODUCT(({}<>{})*1)",
                        Range.column(table, column),
                        Range.column(table, Table.recorded(column))))
            .toList();
    return Formula.call("SUM", counts);
  }
}
