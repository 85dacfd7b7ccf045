package lotproof.report.assembly;

import java.nio.file.Path;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;

/** The demo study, analysed once for all tests of this module. */
public final class DemoResult {
  private static final Path DEMO = Path.of("..", "demo-data", "hive-scale");
  private static final StudyResult RESULT = analyse();

  private DemoResult() {}

  /** The result. */
  public static StudyResult get() {
    return RESULT;
  }

  private static StudyResult analyse() {
    StudyContents contents = StudyFolder.at(DEMO).open().get();
    return new StudyAnalysis(contents.study()).analyse(contents.readings(), contents.decisions());
  }
}
