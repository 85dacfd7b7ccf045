package lotproof.app;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lotproof.report.text.OutsideText;
import lotproof.study.DataIssue;

/** Prints data issues, one a line. */
final class Issues {
  private static final int FIRST = 20;

  private Issues() {}

  static void print(List<DataIssue> issues, PrintWriter to) {
    for (DataIssue issue : issues) {
      to.println(line(issue));
    }
  }

  /**
   * Prints the first of many, errors before warnings; the rest stands in the report and in what
   * {@code --json} prints.
   */
  static void printFirst(List<DataIssue> issues, PrintWriter to) {
    List<DataIssue> shown = new ArrayList<>(issues);
    if (issues.size() > FIRST) {
      // an error that hides behind warnings would leave a person without the reason
      shown.sort(Comparator.comparing(issue -> !issue.isError()));
    }
    print(shown.subList(0, Math.min(shown.size(), FIRST)), to);
    if (issues.size() > FIRST) {
      to.println(
          "... and " + (issues.size() - FIRST) + " more; --json and the report list them all");
    }
  }

  static String line(DataIssue issue) {
    String severity =
        switch (issue.severity()) {
          case ERROR -> "error: ";
          case WARNING -> "warning: ";
        };
    return severity + OutsideText.clean(issue.sentence());
  }
}
