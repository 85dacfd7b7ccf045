package lotproof.gather;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lotproof.folder.StudyContents;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;

/** What speaks against readings before they enter the record, whatever file they come in. */
public final class DoorIssues {
  private DoorIssues() {}

  /**
   * The issues of readings that are to come in, against what the folder holds.
   *
   * @param accepted kinds of trouble that a person looked at and found right; they stay warnings
   */
  public static List<DataIssue> of(
      StudyContents contents, List<Reading> readings, Set<Code> accepted) {
    List<DataIssue> issues = new ArrayList<>(plausibility(contents, readings));
    for (DataIssue issue :
        PlannedLoadChecks.check(contents.study(), contents.readings(), readings)) {
      String message = issue.message() + " (if it is right, --accept " + issue.code() + ")";
      issues.add(with(issue, issue.severity(), message));
    }
    return issues.stream().map(issue -> judged(issue, accepted)).toList();
  }

  /**
   * A run that began in another file is checked as a whole; what was wrong with it before is not
   * said again.
   */
  private static List<DataIssue> plausibility(StudyContents contents, List<Reading> readings) {
    List<Reading> begun = begun(contents.readings(), readings);
    if (begun.isEmpty()) {
      return DoorChecks.check(contents, readings);
    }
    Set<String> before = new HashSet<>();
    DoorChecks.check(contents, begun).forEach(issue -> before.add(issue.code() + issue.message()));
    List<Reading> whole = new ArrayList<>(readings);
    whole.addAll(begun);
    return DoorChecks.check(contents, whole).stream()
        .filter(issue -> !before.contains(issue.code() + issue.message()))
        .map(issue -> atFresh(issue, begun, readings))
        .toList();
  }

  /** Readings of the record at other steps of the runs. */
  private static List<Reading> begun(List<Reading> known, List<Reading> fresh) {
    Map<String, Set<Integer>> steps = new HashMap<>();
    fresh.forEach(r -> steps.computeIfAbsent(r.run(), run -> new HashSet<>()).add(r.step()));
    return known.stream()
        .filter(r -> steps.containsKey(r.run()))
        .filter(r -> !steps.getOrDefault(r.run(), Set.of()).contains(r.step()))
        .toList();
  }

  /** An issue of the run at what is new of it. */
  private static DataIssue atFresh(DataIssue issue, List<Reading> begun, List<Reading> fresh) {
    return begun.stream()
        .filter(r -> r.source().file().equals(issue.file()) && r.source().row() == issue.line())
        .flatMap(known -> fresh.stream().filter(r -> r.run().equals(known.run())))
        .findFirst()
        .map(
            r ->
                new DataIssue(
                    issue.severity(),
                    issue.code(),
                    r.source().file(),
                    r.source().row(),
                    issue.column(),
                    issue.unit(),
                    issue.message()))
        .orElse(issue);
  }

  private static DataIssue judged(DataIssue issue, Set<Code> accepted) {
    return issue.isError() && accepted.contains(issue.code())
        ? with(issue, Severity.WARNING, "accepted: " + issue.message())
        : issue;
  }

  private static DataIssue with(DataIssue issue, Severity severity, String message) {
    return new DataIssue(
        severity, issue.code(), issue.file(), issue.line(), issue.column(), issue.unit(), message);
  }
}
