package lotproof.folder;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;

/** decisions.csv: lines to decisions and back. Whether they make sense is for DecisionChecks. */
final class DecisionsFile {
  static final String NAME = "decisions.csv";

  static final List<String> HEADER =
      List.of(
          "decision",
          "time",
          "who",
          "action",
          "target",
          "serial",
          "field",
          "value",
          "cause",
          "evidence");

  private DecisionsFile() {}

  /** Reads all lines; a file of no bytes holds no decisions. */
  static List<Decision> read(byte[] content, List<DataIssue> issues) {
    List<Decision> decisions = new ArrayList<>();
    if (content.length > 0) {
      for (CsvText.Line line : RecordText.lines(NAME, content, HEADER, issues)) {
        decision(line, issues).ifPresent(decisions::add);
      }
    }
    return decisions;
  }

  /** The file with a decision added; what it held is kept byte by byte. */
  static byte[] append(byte[] content, Decision decision) {
    String head = content.length == 0 ? CsvText.line(HEADER) : "";
    byte[] added = (head + CsvText.line(fields(decision))).getBytes(StandardCharsets.UTF_8);
    return ByteBuffer.allocate(content.length + added.length).put(content).put(added).array();
  }

  private static List<String> fields(Decision d) {
    return List.of(
        d.id(),
        d.time(),
        d.who(),
        d.action().word(),
        d.target().word(),
        d.serial(),
        d.field().orElse(""),
        d.value().orElse(""),
        d.cause(),
        d.evidence());
  }

  private static Optional<Decision> decision(CsvText.Line line, List<DataIssue> issues) {
    List<String> fields = line.fields();
    int before = issues.size();
    Optional<Decision.Action> action =
        word(line, 3, List.of(Decision.Action.values()), Decision.Action::word, issues);
    Optional<Decision.Target> target =
        word(line, 4, List.of(Decision.Target.values()), Decision.Target::word, issues);
    for (int column : List.of(0, 5)) {
      if (fields.get(column).isBlank()) {
        issues.add(invalid(line.number(), HEADER.get(column), "the value is missing"));
      }
    }
    if (issues.size() > before) {
      return Optional.empty();
    }
    return Optional.of(
        new Decision(
            fields.get(0),
            fields.get(1),
            fields.get(2),
            action.orElseThrow(),
            target.orElseThrow(),
            fields.get(5),
            present(fields.get(6)),
            present(fields.get(7)),
            fields.get(8),
            fields.get(9),
            line.number()));
  }

  private static <T> Optional<T> word(
      CsvText.Line line,
      int column,
      List<T> values,
      Function<T, String> wordOf,
      List<DataIssue> issues) {
    String text = line.fields().get(column);
    Optional<T> found = values.stream().filter(v -> wordOf.apply(v).equals(text)).findFirst();
    if (found.isEmpty()) {
      String known = String.join(", ", values.stream().map(wordOf).toList());
      String message = "\"" + text + "\" is none of: " + known;
      issues.add(invalid(line.number(), HEADER.get(column), message));
    }
    return found;
  }

  private static Optional<String> present(String text) {
    return text.isBlank() ? Optional.empty() : Optional.of(text);
  }

  static DataIssue invalid(int line, String column, String message) {
    return DataIssue.error(Code.DECISION_INVALID, NAME, line, column, "", message);
  }
}
