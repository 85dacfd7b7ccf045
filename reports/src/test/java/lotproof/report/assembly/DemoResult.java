package lotproof.report.assembly;

import java.nio.file.Path;
import java.util.List;
import java.util.function.UnaryOperator;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/** The demo study, analysed once for all tests of this module. */
public final class DemoResult {
  private static final Path DEMO = Path.of("..", "demo-data", "hive-scale");
  private static final StudyResult RESULT = with(UnaryOperator.identity());

  private DemoResult() {}

  /** The result. */
  public static StudyResult get() {
    return RESULT;
  }

  /** The definition of the study. */
  public static Study study() {
    return StudyFolder.at(DEMO).open().get().study();
  }

  /** The result of the same readings for another definition of the study. */
  public static StudyResult with(UnaryOperator<Study> other) {
    StudyContents contents = StudyFolder.at(DEMO).open().get();
    return new StudyAnalysis(other.apply(contents.study()))
        .analyse(contents.readings(), contents.decisions());
  }

  /** The study's question for the one-point level alone. */
  public static Study claiming(Study study, ClaimRequest.Subject subject, double wanted) {
    ClaimRequest claim = study.claim();
    return study.withClaim(
        new ClaimRequest(
            claim.content(),
            claim.confidence(),
            claim.roundingGrams(),
            claim.form(),
            subject,
            claim.assumedLotRatio(),
            List.of(claim.levels().get(1).wanting(wanted))));
  }
}
