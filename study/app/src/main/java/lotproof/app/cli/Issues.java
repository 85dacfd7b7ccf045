package lotproof.app.cli;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import lotproof.gather.tables.RowNumbers;
import lotproof.study.DataIssue;

/** Prints data issues, one a line; the same trouble in many lines is told once. */
final class Issues {
  static final int FIRST = 20;
  private static final int LONGEST = 40;

  /** A value that a message quotes differs from line to line, and the trouble is the same. */
  private static final Pattern QUOTED = Pattern.compile("^\"[^\"]*\"");

  private Issues() {}

  /**
   * Prints so many at most, errors before warnings then; the rest stands in the report and in what
   * {@code --json} prints.
   */
  static void print(List<DataIssue> issues, int most, CliContext io) {
    List<List<DataIssue>> shown = grouped(issues);
    if (shown.size() > most) {
      // an error that hides behind warnings would leave a person without the reason
      shown.sort(Comparator.comparing(same -> !same.get(0).isError()));
    }
    shown.stream().limit(most).forEach(same -> io.complain(line(same)));
    if (shown.size() > most) {
      int left = shown.stream().skip(most).mapToInt(List::size).sum();
      io.complain("... and " + left + " more; --json and the report list them all");
    }
  }

  /** Issues that differ in their line alone, in the order of the first of each. */
  private static List<List<DataIssue>> grouped(List<DataIssue> issues) {
    Map<List<Object>, List<DataIssue>> groups = new LinkedHashMap<>();
    for (DataIssue issue : issues) {
      String trouble =
          issue.unit().isEmpty() && issue.code() == DataIssue.Code.NOT_A_NUMBER
              ? QUOTED.matcher(issue.message()).replaceFirst("")
              : issue.message();
      List<Object> anyLine =
          List.of(
              issue.severity(), issue.code(), issue.file(), issue.column(), issue.unit(), trouble);
      groups.computeIfAbsent(anyLine, key -> new ArrayList<>()).add(issue);
    }
    return new ArrayList<>(groups.values());
  }

  private static String line(List<DataIssue> same) {
    DataIssue first = same.get(0);
    String severity = first.isError() ? "error: " : "warning: ";
    List<Integer> lines = same.stream().skip(1).map(DataIssue::line).distinct().toList();
    String more =
        lines.isEmpty() || lines.equals(List.of(first.line()))
            ? ""
            : " (and in line" + (lines.size() > 1 ? "s " : " ") + ranges(lines) + ")";
    return severity + first.sentence() + more;
  }

  /** Line numbers, so written: 3,5-8,10. */
  private static String ranges(List<Integer> lines) {
    String all = RowNumbers.of(lines);
    int end = all.length() > LONGEST ? all.lastIndexOf(',', LONGEST) : -1;
    return end < 0 ? all : all.substring(0, end) + " and so on, " + lines.size() + " lines in all";
  }
}
