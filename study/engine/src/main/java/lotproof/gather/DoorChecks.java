package lotproof.gather;

import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import lotproof.folder.StudyContents;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Design;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * What looks wrong about readings before they enter the record: units and signs that do not fit the
 * kit, a load left on, converters at their end, pairs that nobody planned, times that jump.
 *
 * <p>The thresholds are common practice without a source. They are wide: what they find is almost
 * never a property of a cell or a board. A person who knows better accepts the kind of trouble.
 */
final class DoorChecks {
  /** Ends of converters of 12 to 32 bits, two's complement and offset binary. */
  private static final Set<Double> ENDS = ends();

  /** A run may lie this many loads of the capacity away from its zero before it is suspicious. */
  private static final double TARE_SHARE = 0.2;

  private static final double STUCK_SHARE = 0.02;
  private static final int ENOUGH_RUNS = 5;
  private static final int GAP_FACTOR = 10;
  private static final Duration SHORTEST_GAP = Duration.ofMinutes(2);

  /** What a slope can be off by, and why. */
  private record Mistake(double ratio, double tolerance, String words) {}

  private static final List<Mistake> MISTAKES =
      List.of(
          new Mistake(
              1000, 0.4, "1000 times as steep as expected; are the loads in g and not in kg?"),
          new Mistake(
              1 / 1000.0, 0.4, "1000 times as flat as expected; are the loads in kg and not in g?"),
          new Mistake(2.2046226, 0.08, "2.2046 times as steep as expected; is a kg taken as a lb?"),
          new Mistake(
              1 / 2.2046226, 0.08, "2.2046 times as flat as expected; is a lb taken as a kg?"),
          new Mistake(9.80665, 0.1, "9.807 times as steep as expected; is a kg taken as a N?"),
          new Mistake(1 / 9.80665, 0.1, "9.807 times as flat as expected; is a N taken as a kg?"));

  private final Study study;
  private final List<RunFacts> known;
  private final List<RunFacts> fresh;
  private final List<DataIssue> issues = new ArrayList<>();

  private DoorChecks(StudyContents contents, List<Reading> readings) {
    this.study = contents.study();
    Set<String> names = new HashSet<>();
    readings.forEach(r -> names.add(r.run()));
    this.fresh = RunFacts.of(readings);
    this.known =
        RunFacts.of(contents.readings().stream().filter(r -> !names.contains(r.run())).toList());
  }

  private static Set<Double> ends() {
    Set<Double> ends = new TreeSet<>();
    for (int bits : new int[] {12, 16, 18, 20, 24, 32}) {
      double half = Math.pow(2, bits - 1.0);
      ends.addAll(List.of(half - 1, -half, 2 * half - 1));
    }
    return ends;
  }

  /** Issues of readings that are to come in, against what the folder holds. */
  static List<DataIssue> check(StudyContents contents, List<Reading> readings) {
    DoorChecks checks = new DoorChecks(contents, readings);
    double slope = checks.expectedSlope();
    double zero = checks.expectedZero();
    for (RunFacts run : checks.fresh) {
      checks.checkSlope(run, slope);
      checks.checkTare(run, zero);
      checks.checkCodes(run);
      if (!checks.isSideTest(run)) {
        // a side test may wait for hours on purpose
        checks.checkGaps(run);
      }
    }
    checks.checkPlan();
    checks.checkOrder();
    checks.issues.addAll(SwappedPairs.check(checks.known, checks.fresh));
    return checks.issues;
  }

  private boolean isSideTest(RunFacts run) {
    return study.design().sideTestOf(run.name()).isPresent();
  }

  /** In counts per kg: the median of the record where it has enough runs, or else of the kit. */
  private double expectedSlope() {
    double[] slopes = known.stream().mapToDouble(RunFacts::slope).filter(s -> s != 0).toArray();
    return slopes.length >= ENOUGH_RUNS
        ? median(slopes)
        : study.kit().defaultFactorCountsPerKilogram();
  }

  private double expectedZero() {
    double[] zeros =
        known.stream().filter(r -> r.zero().isPresent()).mapToDouble(r -> r.zero().get()).toArray();
    return zeros.length >= ENOUGH_RUNS ? median(zeros) : 0;
  }

  static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  }

  private void checkSlope(RunFacts run, double expected) {
    if (run.slope() == 0) {
      return;
    }
    double ratio = run.slope() / expected;
    if (ratio > 0.5 && ratio < 2) {
      return;
    }
    String seen =
        String.format(Locale.ROOT, " (%.6g counts per kg, expected %.6g)", run.slope(), expected);
    if (ratio < 0) {
      error(
          Code.SLOPE_DOUBTFUL,
          run.first(),
          run.cell(),
          "the output of run "
              + run.name()
              + " falls as the load rises"
              + seen
              + "; are two signal wires exchanged, or is the sign turned (--sign reversed)?");
      return;
    }
    for (Mistake mistake : MISTAKES) {
      if (Math.abs(ratio / mistake.ratio() - 1) < mistake.tolerance()) {
        error(
            Code.SLOPE_DOUBTFUL,
            run.first(),
            run.cell(),
            "run " + run.name() + " is " + mistake.words() + seen);
        return;
      }
    }
    warning(
        Code.SLOPE_DOUBTFUL,
        run.first(),
        run.cell(),
        "the slope of run " + run.name() + " is far from that of the others" + seen);
  }

  private void checkTare(RunFacts run, double expectedZero) {
    double factor = study.kit().defaultFactorCountsPerKilogram();
    double capacity = study.kit().capacityKilograms();
    if (run.zero().isPresent()) {
      double off = (run.zero().get() - expectedZero) / factor;
      if (!(Math.abs(off) <= TARE_SHARE * capacity)) {
        String kilograms = String.format(Locale.ROOT, "%.3g", off);
        warning(
            Code.TARE_MISSING,
            run.first(),
            run.cell(),
            "at no load run "
                + run.name()
                + " reads as if "
                + kilograms
                + " kg lay on the cell; was something left on it, or the tare not taken?");
      }
    }
  }

  private void checkCodes(RunFacts run) {
    double capacity = study.kit().capacityKilograms();
    List<Reading> steps = run.readings();
    double largest =
        steps.stream().mapToDouble(reading -> Math.abs(reading.outputCounts())).max().orElse(0);
    for (int i = 0; i < steps.size(); i++) {
      Reading reading = steps.get(i);
      double output = reading.outputCounts();
      // nothing lies beyond the ends of a converter, of which the lower one is a code farther out
      if (ENDS.contains(output) && largest <= Math.abs(output) + 1) {
        error(
            Code.CODES_SATURATED,
            reading,
            run.board(),
            "the output "
                + String.format(Locale.ROOT, "%.0f", output)
                + " is the end of a converter; the input was out of its range");
        return;
      }
      if (i > 0) {
        Reading before = steps.get(i - 1);
        double moved = Math.abs(reading.loadKilograms() - before.loadKilograms());
        if (moved > STUCK_SHARE * capacity && output == before.outputCounts()) {
          error(
              Code.CODES_STUCK,
              reading,
              run.board(),
              "the output did not change although the load did; is the converter stuck, or was the"
                  + " value copied?");
          return;
        }
      }
    }
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
    double usual = Math.max(median(seconds), 0);
    for (int i = 0; i < seconds.length; i++) {
      if (seconds[i] > SHORTEST_GAP.toSeconds() && seconds[i] > GAP_FACTOR * usual) {
        warning(
            Code.TIME_GAP,
            timed.get(i + 1),
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

  private void checkPlan() {
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
              .checkStandard()
              .filter(c -> c.cell().equals(run.cell()) && c.board().equals(run.board()))
              .isPresent();
      Set<String> planned = partners.getOrDefault(run.cell(), Set.of());
      // a cell that the study does not know has its issue already
      boolean unknown = planned.isEmpty() && !isKnown(run.cell());
      if (!check && !unknown && !isSideTest(run) && !planned.contains(run.board())) {
        String who =
            planned.isEmpty()
                ? "the plan has no run of this cell"
                : "the plan joins this cell with " + String.join(", ", planned);
        warning(
            Code.PAIR_NOT_PLANNED,
            run.first(),
            run.cell(),
            "run " + run.name() + " has board " + run.board() + "; " + who);
      }
    }
  }

  private boolean isKnown(String cell) {
    return study.lotBySerial(UnitKind.CELL).containsKey(cell)
        || study.checkStandard().filter(c -> c.cell().equals(cell)).isPresent()
        || study.design().reference().filter(r -> r.cell().equals(cell)).isPresent();
  }

  /** Runs of a session in the order of the file, by the time of their first reading. */
  private void checkOrder() {
    Map<String, RunFacts> last = new LinkedHashMap<>();
    for (RunFacts run : fresh) {
      RunFacts before = last.get(run.session());
      if (run.start().isEmpty()) {
        continue;
      }
      LocalDateTime start = run.start().get();
      if (before != null && start.isBefore(before.start().orElse(start))) {
        warning(
            Code.RUN_ORDER,
            run.first(),
            "",
            "run "
                + run.name()
                + " began at "
                + start
                + ", before run "
                + before.name()
                + " that stands above it; runs are out of order, or the clock was set back");
      }
      last.put(run.session(), run);
    }
  }

  private void error(Code code, Reading at, String unit, String message) {
    issue(Severity.ERROR, code, at, unit, message + " (if it is right, --accept " + code + ")");
  }

  private void warning(Code code, Reading at, String unit, String message) {
    issue(Severity.WARNING, code, at, unit, message);
  }

  private void issue(Severity severity, Code code, Reading at, String unit, String message) {
    String column =
        switch (code) {
          case PAIR_NOT_PLANNED -> "board";
          case TIME_GAP, RUN_ORDER -> "time";
          default -> "output [counts]";
        };
    issues.add(
        new DataIssue(
            severity, code, at.source().file(), at.source().row(), column, unit, message));
  }

  static Comparator<Reading> bySteps() {
    return Comparator.comparingInt(Reading::step);
  }
}
