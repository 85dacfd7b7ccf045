package lotproof.gather.plausibility;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;

/** Collects what the checks find. */
final class Findings {
  private final List<DataIssue> issues = new ArrayList<>();

  /** A question: nothing is kept until a person accepts it by its code. */
  void ask(Code code, Reading at, ReadingColumn column, String unit, String message) {
    issue(Severity.ERROR, code, at, column, unit, message + accepted(code));
  }

  void warn(Code code, Reading at, ReadingColumn column, String unit, String message) {
    issue(Severity.WARNING, code, at, column, unit, message);
  }

  private void issue(
      Severity severity, Code code, Reading at, ReadingColumn column, String unit, String message) {
    issues.add(
        new DataIssue(
            severity, code, at.source().file(), at.source().row(), column.header(), unit, message));
  }

  private static String accepted(Code code) {
    return " (if it is right, --accept " + code + ")";
  }

  /** A question without the option that answers it, for a person who is asked at once. */
  static String withoutOption(DataIssue issue) {
    String option = accepted(issue.code());
    return issue.message().endsWith(option)
        ? issue.message().substring(0, issue.message().length() - option.length())
        : issue.message();
  }

  List<DataIssue> all() {
    return issues;
  }

  /** A number as people read it: six digits, no exponent where it can be helped. */
  static String number(double value) {
    double size = Math.abs(value);
    if (size >= 1e6 && size < 1e12) {
      return String.format(Locale.ROOT, "%.0f", value);
    }
    if (size != 0 && (size < 1e-3 || size >= 1e12)) {
      return String.format(Locale.ROOT, "%.3g", value);
    }
    String text = String.format(Locale.ROOT, "%.6g", value);
    return text.indexOf('.') < 0 ? text : text.replaceAll("0+$", "").replaceAll("\\.$", "");
  }
}
