package lotproof.gather.plausibility;

import java.time.Duration;
import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.summary.Summary;
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
  private static final Duration SHORTEST_GAP = Duration.ofMinutes(2);

  private final Study study;
  private final Findings findings;

  PlanChecks(Study study, Findings findings) {
    this.study = study;
    this.findings = findings;
  }

  void check(List<RunFacts> fresh) {
    for (RunFacts run : fresh) {
      if (study.design().sideTestOf(run.name()).isEmpty()) {
        // a side test may wait for hours on purpose
        checkGaps(run);
      }
    }
    checkPairs(fresh);
    checkOrder(fresh);
  }

  private void checkGaps(RunFacts run) {
    List<Reading> timed = run.readings().stream().filter(r -> r.time().isPresent()).toList();
    double[] seconds = new double[Math.max(0, timed.size() - 1)];
    for (int i = 1; i < timed.size(); i++) {
      seconds[i - 1] = seconds(timed.get(i - 1), timed.get(i));
    }
    if (seconds.length < 3) {
      return;
    }
    double usual = Math.max(Summary.median(seconds), 0);
    for (int i = 0; i < seconds.length; i++) {
      if (seconds[i] > SHORTEST_GAP.toSeconds() && seconds[i] > GAP_FACTOR * usual) {
        findings.warn(
            Code.TIME_GAP,
            timed.get(i + 1),
            ReadingColumn.TIME,
            "",
            String.format(
                Locale.ROOT,
                "run %s stood still for %.0f s before step %d, where %.0f s are usual",
                run.name(),
                seconds[i],
                timed.get(i + 1).step(),
                usual));
      }
    }
  }

  private static double seconds(Reading from, Reading to) {
    return Duration.between(from.time().orElseThrow(), to.time().orElseThrow()).toMillis() / 1000.0;
  }

  private void checkPairs(List<RunFacts> fresh) {
    Map<String, Set<String>> partners = new HashMap<>();
    for (Design.PlannedPair pair : study.design().pairs()) {
      partners.computeIfAbsent(pair.cell(), c -> new TreeSet<>()).add(pair.board());
    }
    if (partners.isEmpty()) {
      return;
    }
    for (RunFacts run : fresh) {
      boolean check =
          study
              .units()
              .checkStandard()
              .filter(c -> c.cell().equals(run.cell()) && c.board().equals(run.board()))
              .isPresent();
      Set<String> planned = partners.getOrDefault(run.cell(), Set.of());
      // a cell that the study does not know has its issue already
      boolean unknown = planned.isEmpty() && !isKnown(run.cell());
      if (!check
          && !unknown
          && study.design().sideTestOf(run.name()).isEmpty()
          && !planned.contains(run.board())) {
        String who =
            planned.isEmpty()
                ? "the plan has no run of this cell"
                : "the plan joins this cell with " + String.join(", ", planned);
        findings.warn(
            Code.PAIR_NOT_PLANNED,
            run.first(),
            ReadingColumn.BOARD,
            run.cell(),
            "run " + run.name() + " has board " + run.board() + "; " + who);
      }
    }
  }

  private boolean isKnown(String cell) {
    return study.serials(UnitKind.CELL).contains(cell);
  }

  /** Runs of a session in the order of the file, by the time of their first reading. */
  private void checkOrder(List<RunFacts> fresh) {
    Map<String, RunFacts> last = new LinkedHashMap<>();
    for (RunFacts run : fresh) {
      RunFacts before = last.get(run.session());
      if (run.start().isEmpty()) {
        continue;
      }
      LocalDateTime start = run.start().get();
      if (before != null && start.isBefore(before.start().orElse(start))) {
        findings.warn(
            Code.RUN_ORDER,
            run.first(),
            ReadingColumn.TIME,
            "",
            ("run %s began at %s, before run %s that stands above it; runs are out of"
                    + " order, or the clock was set back")
                .formatted(run.name(), start, before.name()));
      }
      last.put(run.session(), run);
    }
  }
}
