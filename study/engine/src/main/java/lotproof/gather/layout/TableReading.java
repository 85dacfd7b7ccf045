package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lotproof.folder.Batch;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.layout.Layouts.Candidate;
import lotproof.gather.layout.Layouts.Kind;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Concealed;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.GridOutcome;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.Table.NumberStyle;
import lotproof.reduce.PlannedLoads;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * A received file to readings. Looks at the file and the study alone; what the record says about
 * the readings is checked by the folder.
 */
public final class TableReading {
  private static final int MOST_LOADS = 6;
  private static final Pattern LETTERS = Pattern.compile("column ([A-Z]{1,3})");

  private final Context context;
  private final Layouts layouts;

  /**
   * What a file gave.
   *
   * @param batch readings of the rows that will do, and all issues; an open question is an error
   *     among them
   * @param facts how the file was understood
   * @param columns how its columns were understood
   * @param questions what it leaves open
   */
  public record Result(
      Batch batch, List<Fact> facts, List<ColumnUse> columns, List<Question> questions) {
    /** Issues about readings, with the headers of the file in place of those of the record. */
    public List<DataIssue> inItsHeaders(List<DataIssue> of) {
      Map<String, String> headers = new HashMap<>();
      columns.forEach(use -> headers.putIfAbsent(use.meaning(), use.header()));
      return of.stream()
          .map(
              issue ->
                  new DataIssue(
                      issue.severity(),
                      issue.code(),
                      issue.file(),
                      issue.line(),
                      headers.getOrDefault(issue.column(), issue.column()),
                      issue.unit(),
                      issue.message()))
          .toList();
    }

    public Result {
      facts = List.copyOf(facts);
      columns = List.copyOf(columns);
      questions = List.copyOf(questions);
    }
  }

  private TableReading(ReceivedFile file, Study study, Mapping mapping) {
    this.context = new Context(file, study, mapping);
    this.layouts = new Layouts(study, mapping);
  }

  /**
   * Reads a file.
   *
   * @param outcome its rows, in each way in which they can be read
   * @param mapping what people said about it
   */
  public static Result read(ReceivedFile file, GridOutcome outcome, Study study, Mapping mapping) {
    TableReading reading = new TableReading(file, study, mapping);
    if (outcome instanceof GridOutcome.Refused refused) {
      reading.context.issues().addAll(refused.issues());
      return reading.result(List.of(), List.of());
    }
    Optional<Candidate> chosen =
        new TableChoice(reading.context, reading.layouts)
            .of(((GridOutcome.Found) outcome).candidates());
    return chosen.map(reading::read).orElseGet(() -> reading.result(List.of(), List.of()));
  }

  private Result result(List<Reading> readings, List<ColumnUse> columns) {
    List<DataIssue> issues = new ArrayList<>(context.issues());
    issues.sort(Comparator.comparingInt(DataIssue::line));
    return new Result(new Batch(readings, issues), context.facts(), columns, context.questions());
  }

  private Result read(Candidate candidate) {
    Grid grid = candidate.grid();
    grid.issues().forEach(issue -> context.add(named(issue, candidate)));
    context.facts().addAll(0, grid.facts());
    List.of(Setting.HIDDEN, Setting.STRUCK).forEach(setting -> askForConcealed(setting, candidate));
    ReadingLayout walk = walk(candidate);
    FormatEvidence profile = new FormatEvidence(context);
    Optional<DataIssue> broken = walk.forEach(true, profile);
    if (broken.isPresent()) {
      context.add(broken.get());
      return result(List.of(), walk.uses());
    }
    context.facts().add(0, new Fact("layout", walk.layout()));
    Map<ReadingColumn, Conversion> cellUnits = profile.cellUnits(walk.headerLine());
    Numbers numbers = numbers(grid, profile);
    Times times = times(profile);
    boolean sound = walk.isSound() && context.questions().isEmpty();
    RunNamer namer = new RunNamer(context, candidate.kind() == Kind.WIDE);
    RowReader reader = new RowReader(context, grid.sheet(), numbers, times, cellUnits);
    List<Reading> readings = new ArrayList<>();
    walk.forEach(
            false,
            (slots, row, line) -> reader.read(slots, row, line, namer).ifPresent(readings::add))
        .ifPresent(context::add);
    boolean noNumber = context.issues().stream().anyMatch(i -> i.code() == Code.NOT_A_NUMBER);
    if (grid.numbers() == NumberStyle.TYPED && !noNumber) {
      profile.warnOfText();
    }
    if (namer.namedRuns()) {
      context.fact("run", "named by session, cell and board, because the file names no runs");
    }
    if (namer.countedSteps()) {
      context.fact("step", "counted in the order of the file, because it numbers no steps");
    }
    signFact(readings);
    loadFact(readings);
    // what else is wrong with runs that cannot be told apart follows from that alone
    return result(sound && !namer.isUnsure() ? readings : List.of(), walk.uses());
  }

  /** Whether hidden or struck parts of the table count. */
  private void askForConcealed(Setting setting, Candidate candidate) {
    List<Concealed> parts =
        candidate.grid().concealed().stream()
            .filter(part -> part.setting() == setting)
            .filter(part -> part.row() == 0 || part.row() > candidate.header().number())
            .filter(
                part ->
                    part.column() < 0
                        || candidate.kind() == Kind.TURNED
                        || isNamed(part, candidate))
            .toList();
    if (parts.isEmpty() || context.told(setting).isPresent()) {
      return;
    }
    boolean struck = setting == Setting.STRUCK;
    Concealed first = parts.get(0);
    String more = parts.size() == 1 ? "" : ", and so are " + (parts.size() - 1) + " more places";
    context.ask(
        setting,
        first.place()
            + (struck ? " is struck through" : " is hidden")
            + more
            + ". Is what stands there a reading like the others?",
        List.of(
            new Choice("take", struck ? "it counts in spite of it" : "it counts like the rest"),
            new Choice("leave", struck ? "it is void: leave the readings out" : "leave it out")),
        Math.max(first.row(), candidate.header().number()),
        first.column() < 0 ? "" : candidate.header().cell(first.column()).shown());
  }

  private static boolean isNamed(Concealed part, Candidate candidate) {
    return !candidate.header().cell(part.column()).shown().isEmpty();
  }

  /** An issue about a cell of a sheet, with the header of its column in place of its letters. */
  private static DataIssue named(DataIssue issue, Candidate candidate) {
    Matcher letters = LETTERS.matcher(issue.column());
    if (!letters.matches() || candidate.kind() == Kind.TURNED) {
      return issue;
    }
    int index = -1;
    for (char c : letters.group(1).toCharArray()) {
      index = 26 * (index + 1) + (c - 'A');
    }
    String header = candidate.header().cell(index).shown();
    return new DataIssue(
        issue.severity(),
        issue.code(),
        issue.file(),
        issue.line(),
        header.isEmpty() ? letters.group(1) : header,
        issue.unit(),
        issue.message());
  }

  private ReadingLayout walk(Candidate candidate) {
    Grid grid = candidate.grid();
    Row header = candidate.header();
    return switch (candidate.kind()) {
      case TIDY -> new TidyLayout(grid, context, header);
      case WIDE ->
          new WideLayout(
              grid.rows(),
              context,
              header,
              "one run a row",
              grid.numbers() != NumberStyle.TYPED,
              Optional.empty());
      case TURNED -> TurnedTable.walk(grid, context, layouts, header);
    };
  }

  private Numbers numbers(Grid grid, FormatEvidence profile) {
    Numbers.doubt(grid.numbers(), profile.numbers(), grid.separator(), context.mapping())
        .ifPresent(
            sample ->
                context.ask(
                    Setting.DECIMAL,
                    "\""
                        + sample.text()
                        + "\" can be read in two ways, and no other number of the file settles it",
                    choices(sample.text()),
                    sample.line(),
                    sample.column()));
    Numbers numbers =
        Numbers.of(grid.numbers(), grid.separator(), profile.numbers(), context.mapping());
    if (grid.numbers() != NumberStyle.TYPED) {
      context.fact("decimal mark", numbers.words());
    }
    return numbers;
  }

  private static List<Choice> choices(String text) {
    boolean comma = text.indexOf(',') >= 0;
    Choice decimal = new Choice(comma ? "comma" : "point", "the mark parts decimals: " + text);
    Choice thousands =
        new Choice(
            comma ? "point" : "comma", "it parts thousands, and then --grouping is needed too");
    return List.of(decimal, thousands);
  }

  private Times times(FormatEvidence profile) {
    profile
        .times()
        .doubt(context.mapping())
        .ifPresent(
            sample ->
                context.ask(
                    Setting.DATES,
                    "\""
                        + sample.text()
                        + "\" can be read in two ways, and no other date of the file settles it",
                    List.of(
                        new Choice("day-first", "the day stands before the month"),
                        new Choice("month-first", "the month stands before the day")),
                    sample.line(),
                    sample.column()));
    Times times = Times.of(profile.times(), context.mapping());
    if (profile.times().matters()) {
      context.fact("dates", times.words());
    }
    return times;
  }

  /** Masses that stand for a planned load without being written as it. */
  private void loadFact(List<Reading> readings) {
    Map<Double, Double> planned = new TreeMap<>();
    for (Reading reading : readings) {
      PlannedLoads.of(reading, context.study())
          .ifPresent(load -> planned.put(reading.loadKilograms(), load));
    }
    planned.entrySet().removeIf(e -> e.getKey().equals(e.getValue()));
    if (!planned.isEmpty()) {
      String some =
          planned.entrySet().stream()
              .limit(MOST_LOADS)
              .map(
                  e ->
                      UnitsOfMeasure.plain(e.getKey())
                          + " kg as "
                          + UnitsOfMeasure.plain(e.getValue())
                          + " kg")
              .collect(Collectors.joining(", "));
      String more = planned.size() > MOST_LOADS ? ", ..." : "";
      context.fact(
          "taken as planned loads", some + more + "; errors are against the mass as written");
    }
  }

  /** Whether the output rises with the load, run by run. */
  private void signFact(List<Reading> readings) {
    Map<String, Reading> first = new HashMap<>();
    Map<String, Boolean> rises = new HashMap<>();
    for (Reading reading : readings) {
      Reading before = first.putIfAbsent(reading.run(), reading);
      if (before != null
          && !rises.containsKey(reading.run())
          && before.loadKilograms() != reading.loadKilograms()
          && before.outputCounts() != reading.outputCounts()) {
        boolean more = reading.loadKilograms() > before.loadKilograms();
        rises.put(reading.run(), more == reading.outputCounts() > before.outputCounts());
      }
    }
    long up = rises.values().stream().filter(r -> r).count();
    if (!rises.isEmpty()) {
      String words =
          up == rises.size()
              ? "the output rises with the load in all runs"
              : up == 0
                  ? "the output falls with the load in all runs"
                  : "the output falls with the load in " + (rises.size() - up) + " runs";
      boolean reversed = context.told(Setting.SIGN).filter("reversed"::equals).isPresent();
      context.fact("sign", words + (reversed ? ", after it was reversed as told" : ""));
    }
  }
}
