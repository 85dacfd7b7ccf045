package lotproof.folder;

import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import lotproof.folder.text.CsvText;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Keyed;

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
    report(Code.RECORD_DAMAGED, column, what + "; " + RecordFile.ADVICE);
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
    Optional<BigDecimal> number = UnitsOfMeasure.number(raw(column));
    if (number.isEmpty() && !raw(column).isEmpty()) {
      damaged(column, "\"%s\" is not a number".formatted(raw(column)));
    }
    return number.stream().mapToDouble(BigDecimal::doubleValue).findFirst();
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

  /** The constant that is named; the first of them where none is. */
  <K extends Keyed> K constant(String column, K[] constants, Code code) {
    Optional<K> named = Keyed.of(constants, raw(column));
    if (named.isEmpty()) {
      String known = String.join(", ", Arrays.stream(constants).map(Keyed::key).toList());
      report(code, column, "\"%s\" is none of: %s".formatted(raw(column), known));
    }
    return named.orElse(constants[0]);
  }
}
