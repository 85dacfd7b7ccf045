package lotproof.app;

import java.io.PrintWriter;
import java.util.List;
import lotproof.report.text.OutsideText;
import lotproof.study.DataIssue;

/** Prints data issues, one a line. */
final class Issues {
  private Issues() {}

  static void print(List<DataIssue> issues, PrintWriter to) {
    for (DataIssue issue : issues) {
      to.println(line(issue));
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
