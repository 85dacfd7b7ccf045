package lotproof.app.results;

import static lotproof.app.cli.CliCommand.refuse;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Origin;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.capture.StudySeries;
import lotproof.reduce.capture.SeriesStability;
import lotproof.report.assembly.StudyReport;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.work.Parallel;

/** A study folder, carried through to its report, with what is to be known about its data. */
record AnalysedStudy(
    StudyContents contents, StudyResult result, Report report, List<DataIssue> issues) {

  static AnalysedStudy of(CliContext io, Path path) {
    return of(io, path, UnaryOperator.identity());
  }

  /** Opens and analyses a study, which may be asked something else, such as another figure. */
  static AnalysedStudy of(CliContext io, Path path, UnaryOperator<Study> asked) {
    StudyContents contents = CliCommand.open(path);
    mustHoldReadings(path, contents);
    Study study = asked.apply(contents.study());
    StudyResult result =
        io.during(
            "analysing " + contents.readings().size() + " readings",
            () -> {
              Supplier<List<SeriesStability>> series =
                  Parallel.begin(() -> StudySeries.of(StudyFolder.at(path), contents));
              return new StudyAnalysis(study)
                  .analyse(contents.readings(), contents.decisions())
                  .with(series.get());
            });
    List<DataIssue> issues = new ArrayList<>(contents.warnings());
    issues.addAll(result.issues());
    Report report = StudyReport.of(result, contents.recordHash(), Origin.programVersion());
    return new AnalysedStudy(contents, result, report, List.copyOf(issues));
  }

  static void mustHoldReadings(Path path, StudyContents contents) {
    refuse(
        contents.readings().isEmpty(),
        path + ": the record holds no reading; take some in with lotproof import");
  }

  Origin origin(String command, int exit) {
    return Origin.of(command, contents, exit);
  }

  /** Shows sections below the title of the study, and the first issues of its data. */
  void show(CliContext io, List<Section> sections, boolean details) {
    io.say(contents.study().title());
    io.show(sections, details);
    io.showFirst(issues);
  }

  /** The report's section of that id. */
  Section section(String id) {
    return report.sections().stream()
        .filter(section -> section.id().equals(id))
        .findFirst()
        .orElseThrow();
  }
}
