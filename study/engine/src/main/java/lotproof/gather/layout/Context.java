package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.folder.ReceivedFile;
import lotproof.gather.layout.Question.About;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** What is known around a file while it is read, and what is found out about it. */
final class Context {
  /**
   * Beyond this many issues nobody reads on, and a file of nothing but trouble fills the memory.
   */
  private static final int MOST_ISSUES = 5000;

  private final ReceivedFile file;
  private final Study study;
  private final Mapping mapping;
  private final List<DataIssue> issues = new ArrayList<>();
  private final List<Question> questions = new ArrayList<>();
  private final List<Fact> facts = new ArrayList<>();
  private final Set<String> units = new HashSet<>();
  private boolean cut;

  Context(ReceivedFile file, Study study, Mapping mapping) {
    this.file = file;
    this.study = study;
    this.mapping = mapping;
  }

  ReceivedFile file() {
    return file;
  }

  Study study() {
    return study;
  }

  Mapping mapping() {
    return mapping;
  }

  List<DataIssue> issues() {
    return issues;
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
              "",
              "",
              "there is more trouble from here on; the first " + MOST_ISSUES + " are named"));
    }
  }

  void error(Code code, int line, String column, String message) {
    add(DataIssue.error(code, file.name(), line, column, "", message));
  }

  void warning(Code code, int line, String column, String message) {
    add(DataIssue.warning(code, file.name(), line, column, "", message));
  }

  /** Asks about the file as a whole; without an answer it is an error. */
  void ask(Setting setting, String text, List<Question.Choice> choices, int line, String column) {
    String told = "It is not guessed: say --" + setting.key() + " " + values(choices);
    String join = text.endsWith("?") ? " " : "; ";
    ask(
        new About.Whole(setting),
        text,
        choices,
        Code.AMBIGUOUS,
        line,
        column,
        text + join + (join.equals(" ") ? told : told.replaceFirst("^It", "it")));
  }

  /** Asks about a column; without an answer it is the error that is given. */
  void askColumn(
      String header,
      String text,
      List<Question.Choice> choices,
      Code code,
      int line,
      String error) {
    ask(new About.Column(header), text, choices, code, line, header, error);
  }

  private void ask(
      About about,
      String text,
      List<Question.Choice> choices,
      Code code,
      int line,
      String column,
      String error) {
    DataIssue unanswered = DataIssue.error(code, file.name(), line, column, "", error);
    if (questions.stream().noneMatch(q -> q.about().equals(about))) {
      questions.add(new Question(about, text, choices, unanswered));
      add(unanswered);
    }
  }

  /** Whether it is open which column something is, so that none can be called missing. */
  boolean hasUnclearColumn() {
    return questions.stream()
        .anyMatch(
            q -> q.about() instanceof About.Column && q.unanswered().code() == Code.AMBIGUOUS);
  }

  private static String values(List<Question.Choice> choices) {
    return String.join(" or ", choices.stream().map(Question.Choice::value).toList());
  }

  /** Whether a text is the serial of a cell or a board of the study. */
  boolean isUnit(String text) {
    if (units.isEmpty()) {
      for (UnitKind kind : UnitKind.values()) {
        units.addAll(study.lotBySerial(kind).keySet());
      }
    }
    return units.contains(text);
  }

  Optional<String> told(Setting setting) {
    return mapping.setting(setting);
  }
}
