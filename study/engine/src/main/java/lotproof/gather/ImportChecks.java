package lotproof.gather;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import lotproof.folder.StudyContents;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;

/** What speaks against readings before they enter the record, whatever file they come in. */
public final class ImportChecks {
  private ImportChecks() {}

  /**
   * The issues of readings that are to come in, against what the folder holds.
   *
   * @param accepted kinds of trouble that a person looked at and found right; they stay warnings
   */
  public static List<DataIssue> of(
      StudyContents contents, List<Reading> readings, Set<Code> accepted) {
    List<DataIssue> issues = new ArrayList<>(PlausibilityChecks.check(contents, readings));
    issues.addAll(PlannedLoadChecks.check(contents.study(), contents.readings(), readings));
    return accepting(issues, accepted);
  }

  /** Issues whose questions name the option that accepts them; accepted, they are warnings. */
  static List<DataIssue> accepting(List<DataIssue> issues, Set<Code> accepted) {
    return issues.stream()
        .map(issue -> issue.isError() ? question(issue, accepted) : issue)
        .toList();
  }

  /** A question that names the option that accepts it; accepted, it is a warning. */
  static DataIssue question(DataIssue issue, Set<Code> accepted) {
    String message = issue.message() + " (if it is right, --accept " + issue.code() + ")";
    return accepted.contains(issue.code())
        ? issue.as(Severity.WARNING, "accepted: " + message)
        : issue.as(Severity.ERROR, message);
  }
}
