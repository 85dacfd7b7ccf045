package lotproof.folder;

import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.regex.Pattern;
import lotproof.folder.text.CsvText;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * One line of a record file. A field that the file cannot hold is reported, and a stand-in is given
 * for it.
 */
final class RecordLine {
  private static final Pattern WHOLE = Pattern.compile("0|[1-9][0-9]{0,8}");

  private final String file;
  private final List<String> header;
  private final CsvText.Line csv;
  private final List<DataIssue> issues;
  private final Map<String, String> texts;
  private boolean sound = true;

  /**
   * A line.
   *
   * @param texts texts of the file so far; those that many lines share are held once
   */
  RecordLine(
      String file,
      List<String> header,
      CsvText.Line csv,
      List<DataIssue> issues,
      Map<String, String> texts) {
    this.file = file;
    this.header = header;
    this.csv = csv;
    this.issues = issues;
    this.texts = texts;
  }

  int number() {
    return csv.number();
  }

  boolean isSound() {
    return sound;
  }

  /** Whether it has the right number of fields; what is wrong is reported. */
  boolean isWhole() {
    int fields = csv.fields().size();
    if (csv.isEmpty()) {
      damaged("", "the line is empty");
    } else if (fields != header.size()) {
      damaged("", "the line has %s fields instead of %s".formatted(fields, header.size()));
    }
    return sound;
  }

  void damaged(String column, String what) {
    sound = false;
    issues.add(RecordFile.damage(file, number(), column, what));
  }

  void report(Code code, String column, String message) {
    sound = false;
    issues.add(DataIssue.error(code, file, number(), column, "", message));
  }

  private String raw(String column) {
    return csv.fields().get(header.indexOf(column));
  }

  /** The text of a column, which may be empty. */
  String text(String column) {
    return texts.computeIfAbsent(raw(column), same -> same);
  }

  /** The text of a column that every line needs. */
  String needed(String column) {
    if (raw(column).isBlank()) {
      damaged(column, "the value is missing");
    }
    return text(column);
  }

  Optional<String> optional(String column) {
    return raw(column).isBlank() ? Optional.empty() : Optional.of(raw(column));
  }

  /** A whole number from the least one that makes sense. */
  int count(String column, int least) {
    String text = raw(column);
    if (WHOLE.matcher(text).matches() && Integer.parseInt(text) >= least) {
      return Integer.parseInt(text);
    }
    damaged(column, "\"%s\" is not a whole number from %s".formatted(text, least));
    return 1;
  }

  /** A number that every line needs. */
  double number(String column) {
    if (raw(column).isEmpty()) {
      damaged(column, "the value is missing");
    }
    return optionalNumber(column).orElse(1);
  }

  OptionalDouble optionalNumber(String column) {
    String text = raw(column);
    if (text.isEmpty()) {
      return OptionalDouble.empty();
    }
    return UnitsOfMeasure.number(text)
        .map(number -> OptionalDouble.of(number.doubleValue()))
        .orElseGet(
            () -> {
              damaged(column, "\"%s\" is not a number".formatted(text));
              return OptionalDouble.empty();
            });
  }

  Optional<LocalDateTime> time(String column) {
    String text = raw(column);
    try {
      return text.isEmpty() ? Optional.empty() : Optional.of(LocalDateTime.parse(text));
    } catch (DateTimeException e) {
      damaged(column, "\"%s\" is not a time such as 2026-03-04T09:30".formatted(text));
      return Optional.empty();
    }
  }

  /** The hash of a file. */
  String hash(String column) {
    if (!ReceivedFile.isHash(raw(column))) {
      damaged(column, "\"%s\" is not a SHA-256 hash".formatted(raw(column)));
    }
    return text(column);
  }

  /** The value that a word stands for; the first of them where it stands for none. */
  <E> E word(String column, E[] values, Function<E, String> wordOf, Code code) {
    for (E value : values) {
      if (wordOf.apply(value).equals(raw(column))) {
        return value;
      }
    }
    String known = String.join(", ", List.of(values).stream().map(wordOf).toList());
    report(code, column, "\"%s\" is none of: %s".formatted(raw(column), known));
    return values[0];
  }
}
