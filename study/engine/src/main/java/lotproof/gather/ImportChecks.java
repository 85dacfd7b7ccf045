package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.StudyContents;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.reduce.LoadRun;
import lotproof.reduce.PlannedLoads;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;
import lotproof.study.Study;

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
    issues.addAll(ofLoads(contents.study(), contents.readings(), readings));
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

  /**
   * Runs with a load that was not planned for its step: such a run would enter no figure. Each run
   * has one error, at its first such reading. A run that still lacks steps is none of these, and
   * the check standard may be read at any loads.
   *
   * @param known readings that the record holds
   * @param fresh readings that are to come in
   */
  static List<DataIssue> ofLoads(Study study, List<Reading> known, List<Reading> fresh) {
    Map<Reading.Step, Reading> together = new LinkedHashMap<>();
    fresh.forEach(reading -> together.put(reading.stepOfRun(), reading));
    Set<String> runs = fresh.stream().map(Reading::run).collect(Collectors.toSet());
    known.stream()
        .filter(reading -> runs.contains(reading.run()))
        .forEach(reading -> together.putIfAbsent(reading.stepOfRun(), reading));
    Set<Reading> own = new HashSet<>(fresh);
    List<DataIssue> issues = new ArrayList<>();
    for (LoadRun run : LoadRun.groupedFrom(List.copyOf(together.values()), study)) {
      List<Double> planned = study.design().loadsOf(run.name());
      List<Reading> others =
          run.readings().stream()
              .filter(reading -> own.contains(reading) && !isPlanned(study, reading, planned))
              .toList();
      boolean check = study.units().isCheckStandard(run.cell(), run.board());
      boolean asPlanned = planned.isEmpty() || run.loadsKilograms().equals(planned);
      if (!asPlanned && !others.isEmpty() && !check) {
        issues.add(notPlanned(run, planned, others));
      }
    }
    return issues;
  }

  private static boolean isPlanned(Study study, Reading reading, List<Double> planned) {
    OptionalDouble load = PlannedLoads.of(reading, study);
    return reading.step() <= planned.size()
        && load.isPresent()
        && load.getAsDouble() == planned.get(reading.step() - 1);
  }

  private static DataIssue notPlanned(LoadRun run, List<Double> planned, List<Reading> others) {
    Reading first = others.get(0);
    String where =
        first.step() <= planned.size()
            ? "step %s is planned with %s kg"
                .formatted(first.step(), plain(planned.get(first.step() - 1)))
            : "only " + planned.size() + " steps are planned";
    int more = others.size() - 1;
    String message =
        DataIssue.say(
            "run %s has %s kg at step %s, and %s%s. The planned loads are %s kg, each to within %s"
                + " %% or the limit of its mass class; a run with other loads enters no figure."
                + " Correct the load or its unit, or the loads in study.yaml",
            run.name(),
            plain(first.loadKilograms()),
            first.step(),
            where,
            more == 0 ? "" : "; " + more + " more of its readings do not fit either",
            planned.stream().map(load -> plain(load)).collect(Collectors.joining(", ")),
            plain(100 * PlannedLoads.SHARE));
    return DataIssue.error(
        Code.LOAD_NOT_PLANNED,
        first.source().file(),
        first.source().row(),
        ReadingColumn.LOAD.header(),
        run.cell(),
        message);
  }
}
