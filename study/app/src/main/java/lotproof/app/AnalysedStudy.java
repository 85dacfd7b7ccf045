package lotproof.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.report.assembly.StudyReport;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.study.DataIssue;
import lotproof.study.Study;

/**
 * A study folder, carried through to its report.
 *
 * @param result what the record supports
 * @param report the whole report
 * @param issues what the reader must know about the data
 */
record AnalysedStudy(StudyResult result, Report report, List<DataIssue> issues) {

  /**
   * Opens and analyses a study.
   *
   * @param asked changes what the study is asked, such as another wanted figure
   */
  static AnalysedStudy of(Surroundings io, Path path, UnaryOperator<Study> asked) {
    StudyContents contents = StudyFolders.open(path);
    if (contents.readings().isEmpty()) {
      throw new UnusableException(
          path + ": the record holds no reading; take some in with lotproof import");
    }
    Study study = asked.apply(contents.study());
    StudyResult result =
        new Progress(io)
            .during(
                "analysing " + contents.readings().size() + " readings",
                () ->
                    new StudyAnalysis(study).analyse(contents.readings(), contents.decisions()));
    List<DataIssue> issues = new ArrayList<>(contents.warnings());
    issues.addAll(result.issues());
    Report report =
        StudyReport.of(result, contents.recordHash(), LotproofCommand.Version.number());
    return new AnalysedStudy(result, report, List.copyOf(issues));
  }

  /** The section with this id. */
  Section section(String id) {
    return report.sections().stream()
        .filter(section -> section.id().equals(id))
        .findFirst()
        .orElseThrow(() -> new IllegalStateException("the report has no section " + id));
  }

  /** The report with these sections only. */
  Report only(String... ids) {
    return new Report(
        report.identity(),
        report.headline(),
        java.util.Arrays.stream(ids).map(this::section).toList());
  }
}
