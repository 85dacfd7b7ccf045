package lotproof.gather.plausibility;

import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Design;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Holds runs against the plan and the clock: pairs that nobody planned, times that jump. All of it
 * is kept with a warning. The thresholds are common practice, no source.
 */
final class PlanChecks {
  private static final int GAP_FACTOR = 10;
  private static final double SHORTEST_GAP_SECONDS = 120;

  private final PlausibilityChecks found;
  private final Study study;

  PlanChecks(PlausibilityChecks found) {
    this.found = found;
    this.study = found.study();
  }

  void check(List<Run> fresh) {
    fresh.stream().filter(run -> !isSideTest(run)).forEach(this::checkGaps);
    checkPairs(fresh);
    checkOrder(fresh);
  }

  /** A side test may wait for hours on purpose. */
  private boolean isSideTest(Run run) {
    return study.design().sideTestOf(run.name()).isPresent();
  }

  private void checkGaps(Run run) {
    List<Reading> timed = run.readings().stream().filter(r -> r.time().isPresent()).toList();
    List<Double> seconds = new ArrayList<>();
    for (int i = 1; i < timed.size(); i++) {
      LocalDateTime before = timed.get(i - 1).time().orElseThrow();
      LocalDateTime after = timed.get(i).time().orElseThrow();
      seconds.add(Duration.between(before, after).toMillis() / 1000.0);
    }
    double usual = Math.max(PlausibilityChecks.median(seconds, 3).orElse(Double.MAX_VALUE), 0);
    for (int i = 0; i < seconds.size(); i++) {
      if (seconds.get(i) > Math.max(SHORTEST_GAP_SECONDS, GAP_FACTOR * usual)) {
        Reading after = timed.get(i + 1);
        found.warn(
            Code.TIME_GAP,
            after,
            ReadingColumn.TIME,
            String.format(
                Locale.ROOT,
                "run %s stood still for %.0f s before step %d, where %.0f s are usual",
                run.name(),
                seconds.get(i),
                after.step(),
                usual));
      }
    }
  }

  private void checkPairs(List<Run> fresh) {
    Map<String, Set<String>> partners = new HashMap<>();
    for (Design.PlannedPair pair : study.design().pairs()) {
      partners.computeIfAbsent(pair.cell(), c -> new TreeSet<>()).add(pair.board());
    }
    List<String> cells = study.serials(UnitKind.CELL);
    for (Run run : partners.isEmpty() ? List.<Run>of() : fresh) {
      Set<String> planned = partners.getOrDefault(run.cell(), Set.of());
      // a cell that the study does not know has its issue already
      boolean unknown = planned.isEmpty() && !cells.contains(run.cell());
      if (!unknown && !planned.contains(run.board()) && !isSideTest(run) && !isCheckStandard(run)) {
        String who =
            planned.isEmpty()
                ? "the plan has no run of this cell"
                : "the plan joins this cell with " + String.join(", ", planned);
        found.warn(
            Code.PAIR_NOT_PLANNED,
            run.first(),
            ReadingColumn.BOARD,
            "run " + run.name() + " has board " + run.board() + "; " + who);
      }
    }
  }

  private boolean isCheckStandard(Run run) {
    return study
        .units()
        .checkStandard()
        .equals(Optional.of(new Study.CheckStandard(run.cell(), run.board())));
  }

  /** Runs of a session in the order of the file, by the time of their first reading. */
  private void checkOrder(List<Run> fresh) {
    Map<String, Run> last = new HashMap<>();
    for (Run run : fresh) {
      if (run.start().isEmpty()) {
        continue;
      }
      LocalDateTime start = run.start().get();
      Run before = last.put(run.first().session(), run);
      if (before != null && start.isBefore(before.start().orElseThrow())) {
        found.warn(
            Code.RUN_ORDER,
            run.first(),
            ReadingColumn.TIME,
            ("run %s began at %s, before run %s that stands above it; runs are out of order, or the"
                    + " clock was set back")
                .formatted(run.name(), start, before.name()));
      }
    }
  }
}
