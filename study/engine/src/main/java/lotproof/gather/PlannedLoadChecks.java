package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.reduce.LoadRun;
import lotproof.reduce.PlannedLoads;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Runs with a load that was not planned for its step, before they enter the record: such a run
 * would enter no figure. Each run has one issue, at its first such reading. A run that still lacks
 * steps is none of these, and the check standard may be read at any loads.
 */
final class PlannedLoadChecks {
  private final Study study;
  private final Set<Reading> fresh;

  private PlannedLoadChecks(Study study, List<Reading> fresh) {
    this.study = study;
    this.fresh = new HashSet<>(fresh);
  }

  /**
   * Errors about readings that are to come in.
   *
   * @param known readings that the record holds
   */
  static List<DataIssue> check(Study study, List<Reading> known, List<Reading> fresh) {
    record Step(String run, int step) {}
    Map<Step, Reading> together = new LinkedHashMap<>();
    fresh.forEach(r -> together.put(new Step(r.run(), r.step()), r));
    Set<String> runs = fresh.stream().map(Reading::run).collect(Collectors.toSet());
    known.stream()
        .filter(r -> runs.contains(r.run()))
        .forEach(r -> together.putIfAbsent(new Step(r.run(), r.step()), r));
    PlannedLoadChecks checks = new PlannedLoadChecks(study, fresh);
    return LoadRun.groupedFrom(List.copyOf(together.values()), study).stream()
        .filter(run -> !study.units().isCheckStandard(run.cell(), run.board()))
        .flatMap(run -> checks.issue(run).stream())
        .toList();
  }

  private Optional<DataIssue> issue(LoadRun run) {
    List<Double> planned = study.design().loadsOf(run.name());
    if (planned.isEmpty() || run.loadsKilograms().equals(planned)) {
      return Optional.empty();
    }
    List<Reading> others =
        run.readings().stream().filter(r -> fresh.contains(r) && !isPlanned(r, planned)).toList();
    return others.isEmpty() ? Optional.empty() : Optional.of(issue(run, planned, others));
  }

  private boolean isPlanned(Reading reading, List<Double> planned) {
    OptionalDouble load = PlannedLoads.of(reading, study);
    return reading.step() <= planned.size()
        && load.isPresent()
        && load.getAsDouble() == planned.get(reading.step() - 1);
  }

  private static DataIssue issue(LoadRun run, List<Double> planned, List<Reading> others) {
    Reading first = others.get(0);
    String where =
        first.step() <= planned.size()
            ? "step %s is planned with %s kg"
                .formatted(first.step(), plain(planned.get(first.step() - 1)))
            : "only " + planned.size() + " steps are planned";
    String loads = planned.stream().map(load -> plain(load)).collect(Collectors.joining(", "));
    String more =
        others.size() == 1
            ? ""
            : "; " + (others.size() - 1) + " more of its readings do not fit either";
    String message =
        ("run %s has %s kg at step %s, and %s%s. The planned loads are %s kg,"
                + " each to within %s %% or the limit of its mass class; a run with other"
                + " loads enters no figure. Correct the load or its unit, or the loads in"
                + " study.yaml")
            .formatted(
                run.name(),
                plain(first.loadKilograms()),
                first.step(),
                where,
                more,
                loads,
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
