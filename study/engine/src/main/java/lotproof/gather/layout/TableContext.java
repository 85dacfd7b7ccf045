package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.ReceivedFile;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.RowNumbers;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** What people said about a file with a table, and what is found out while it is read. */
class TableContext {
  /**
   * Beyond this many issues nobody reads on, and a file of nothing but trouble fills the memory.
   */
  private static final int MOST_ISSUES = 5000;

  private static final Pattern LETTERS = Pattern.compile("column ([A-Z]{1,3})");

  private final ReceivedFile file;
  private final Mapping mapping;
  private final List<DataIssue> issues = new ArrayList<>();
  private final List<Question> questions = new ArrayList<>();
  private final List<Fact> facts = new ArrayList<>();
  private boolean cut;

  TableContext(ReceivedFile file, Mapping mapping) {
    this.file = file;
    this.mapping = mapping;
  }

  ReceivedFile file() {
    return file;
  }

  Mapping mapping() {
    return mapping;
  }

  List<DataIssue> issues() {
    return issues;
  }

  /** What is wrong, in the order of the file. */
  List<DataIssue> byLine() {
    return issues.stream().sorted(Comparator.comparingInt(DataIssue::line)).toList();
  }

  List<Question> questions() {
    return questions;
  }

  List<Fact> facts() {
    return facts;
  }

  void fact(String name, String value) {
    facts.add(new Fact(name, value));
  }

  /** Says how many there are, if there are any. */
  void fact(String name, int count) {
    if (count > 0) {
      fact(name, String.valueOf(count));
    }
  }

  /** Says whether something is as a person told it to be. */
  boolean isTold(Setting setting, String value) {
    return told(setting).equals(Optional.of(value));
  }

  Optional<String> told(Setting setting) {
    return mapping.setting(setting);
  }

  void add(DataIssue issue) {
    if (issues.size() < MOST_ISSUES) {
      issues.add(issue);
    } else if (!cut) {
      cut = true;
      issues.add(
          DataIssue.error(
              Code.FILE_UNREADABLE,
              file.name(),
              issue.line(),
              "there is more trouble from here on; the first %s are named".formatted(MOST_ISSUES)));
    }
  }

  /** Says what is wrong in a line; line 0 and an empty column mean all of them. */
  void error(Code code, int line, String column, String message, Object... values) {
    add(DataIssue.error(code, file.name(), line, column, "", DataIssue.say(message, values)));
  }

  void warning(Code code, int line, String column, String message, Object... values) {
    add(DataIssue.warning(code, file.name(), line, column, "", DataIssue.say(message, values)));
  }

  /** Adds the issues about cells of a grid, with the headers of columns in place of letters. */
  void addIssuesOf(Grid grid, Row header) {
    for (DataIssue issue : grid.issues()) {
      Matcher letters = LETTERS.matcher(issue.column());
      if (letters.matches()) {
        int index = -1;
        for (char c : letters.group(1).toCharArray()) {
          index = 26 * (index + 1) + (c - 'A');
        }
        String name = header.cell(index).shown();
        add(issue.inColumn(name.isEmpty() ? letters.group(1) : name));
      } else {
        add(issue);
      }
    }
  }

  /** Says which rows were left out because they hold sums of others. */
  void warnOfTotals(List<Integer> rows) {
    if (!rows.isEmpty()) {
      warning(
          Code.DATA_SKIPPED,
          rows.get(0),
          "",
          "rows called total, mean or the like were not read: %s",
          RowNumbers.of(rows));
    }
  }

  /** Names a line of text that is shorter than the header. */
  void judgeLength(Row row, int columns, Grid grid) {
    int fields = row.cells().size();
    if (!grid.isTyped() && fields < columns) {
      error(
          Code.VALUE_MISSING,
          row.number(),
          "",
          "the line has %s of %s fields; is it cut short? If it is a note, say --skip-rows %s",
          fields,
          columns,
          row.number());
    }
  }

  /** Asks about the file as a whole; without an answer it is an error. */
  void ask(Setting setting, String text, List<Choice> choices, int line) {
    ask(setting, text, choices, line, "");
  }

  void ask(Setting setting, String text, List<Choice> choices, int line, String column) {
    String values = String.join(" or ", choices.stream().map(Choice::value).toList());
    String join = text.endsWith("?") ? " It" : "; it";
    String error = "%s%s is not guessed: say --%s %s".formatted(text, join, setting.key(), values);
    DataIssue unanswered = DataIssue.error(Code.AMBIGUOUS, file.name(), line, column, "", error);
    ask(new Question(Optional.of(setting), "", text, choices, unanswered));
  }

  /** Asks in which of two ways texts of one kind are read, when that was not told. */
  void askForWay(
      Setting setting, Optional<Evidence.Sample> doubtful, String kind, List<Choice> choices) {
    doubtful
        .filter(sample -> told(setting).isEmpty())
        .ifPresent(
            sample ->
                ask(
                    setting,
                    "\"%s\" can be read in two ways, and no other %s of the file settles it"
                        .formatted(sample.text(), kind),
                    choices,
                    sample.line(),
                    sample.column()));
  }

  /** Asks about a column; without an answer it is the error that is given. */
  void askColumn(
      String header, String text, List<Choice> choices, Code code, int line, String error) {
    DataIssue unanswered = DataIssue.error(code, file.name(), line, header, "", error);
    ask(new Question(Optional.empty(), header, text, choices, unanswered));
  }

  private void ask(Question question) {
    if (questions.stream().noneMatch(question::isAbout)) {
      questions.add(question);
      add(question.unanswered());
    }
  }

  /**
   * Asks whether hidden or struck parts of the table count.
   *
   * @param matters whether a part below the header belongs to the table
   */
  void askForConcealed(Grid grid, Row header, Predicate<Grid.Concealed> matters) {
    for (Setting setting : List.of(Setting.HIDDEN, Setting.STRUCK)) {
      List<Grid.Concealed> parts =
          grid.concealed().stream()
              .filter(part -> part.setting() == setting)
              .filter(part -> part.row() == 0 || part.row() > header.number())
              .filter(matters)
              .toList();
      if (parts.isEmpty() || told(setting).isPresent()) {
        continue;
      }
      boolean struck = setting == Setting.STRUCK;
      Grid.Concealed first = parts.get(0);
      String more =
          parts.size() == 1 ? "" : ", and so are %s more places".formatted(parts.size() - 1);
      ask(
          setting,
          "%s is %s%s. Is what stands there a reading like the others?"
              .formatted(first.place(), struck ? "struck through" : "hidden", more),
          List.of(
              new Choice("take", struck ? "it counts in spite of it" : "it counts like the rest"),
              new Choice("leave", struck ? "it is void: leave the readings out" : "leave it out")),
          Math.max(first.row(), header.number()),
          first.column() < 0 ? "" : header.cell(first.column()).shown());
    }
  }
}
