package lotproof.app;

import java.util.Arrays;
import java.util.List;
import lotproof.report.workbook.WorkbookLibrary;
import lotproof.work.SideBySide;

/** What a command is sure to need, begun on another core while its words are still read. */
final class WorkAhead {
  private WorkAhead() {}

  static void of(String... args) {
    List<String> words = Arrays.asList(args);
    if (words.contains("report") && !words.contains("--help") && !words.contains("-h")) {
      SideBySide.meanwhile(WorkbookLibrary::load);
    }
  }
}
