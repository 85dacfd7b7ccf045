package lotproof.gather.plausibility;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lotproof.statistics.summary.Summary;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;

/**
 * Two runs of a session that look as if their serials were exchanged: zero and slope of each fit
 * the other runs of the other's unit, and not those of its own.
 *
 * <p>How far runs of one unit lie apart is taken from the units that have several runs: 1.4826
 * times the median distance from their own median. The distance of a run from a unit is the sum
 * over zero and slope of the squared difference in that measure. Exchanged serials are named when
 * the two runs are together more than 60 away from their own units and less than a tenth of that,
 * and at most 30, from the other's. Construction; the numbers were chosen on invented studies.
 */
final class SwappedPairs {
  private static final double FAR = 60;
  private static final double NEAR = 30;
  private static final double TIMES_NEARER = 10;
  private static final int ENOUGH = 8;
  private static final int MOST_RUNS = 3000;
  private static final double ROBUST = 1.4826;

  private final String kind;
  private final Function<RunFacts, String> unitOf;
  private final Map<String, List<RunFacts>> byUnit = new HashMap<>();
  private double zeroScale;
  private double slopeScale;

  private SwappedPairs(String kind, Function<RunFacts, String> unitOf) {
    this.kind = kind;
    this.unitOf = unitOf;
  }

  /** Warnings about fresh runs. */
  static List<DataIssue> check(List<RunFacts> known, List<RunFacts> fresh) {
    List<RunFacts> all = new ArrayList<>(known);
    all.addAll(fresh);
    all.removeIf(run -> run.zero().isEmpty() || !(run.slope() > 0));
    if (all.size() > MOST_RUNS) {
      return List.of();
    }
    List<DataIssue> issues = new ArrayList<>();
    Set<String> told = new HashSet<>();
    Set<RunFacts> isFresh = new HashSet<>(fresh);
    for (SwappedPairs kind :
        List.of(
            new SwappedPairs("cell", RunFacts::cell), new SwappedPairs("board", RunFacts::board))) {
      kind.find(all, isFresh, told, issues);
    }
    return issues;
  }

  private void find(
      List<RunFacts> all, Set<RunFacts> fresh, Set<String> told, List<DataIssue> issues) {
    all.forEach(run -> byUnit.computeIfAbsent(unitOf.apply(run), u -> new ArrayList<>()).add(run));
    if (!measureScatter()) {
      return;
    }
    List<RunFacts> odd = all.stream().filter(run -> distance(run, run, run) > FAR / 4).toList();
    for (int i = 0; i < odd.size(); i++) {
      for (int j = i + 1; j < odd.size(); j++) {
        RunFacts one = odd.get(i);
        RunFacts other = odd.get(j);
        boolean concerns =
            one.session().equals(other.session())
                && (fresh.contains(one) || fresh.contains(other))
                && !unitOf.apply(one).equals(unitOf.apply(other))
                && !told.contains(one.name())
                && !told.contains(other.name());
        if (concerns) {
          compare(one, other, fresh.contains(one) ? one : other)
              .ifPresent(
                  issue -> {
                    issues.add(issue);
                    told.add(one.name());
                    told.add(other.name());
                  });
        }
      }
    }
  }

  private boolean measureScatter() {
    List<Double> zeros = new ArrayList<>();
    List<Double> slopes = new ArrayList<>();
    for (List<RunFacts> runs : byUnit.values()) {
      if (runs.size() > 1) {
        double zero = Summary.median(runs.stream().mapToDouble(this::zero).toArray());
        double slope = Summary.median(runs.stream().mapToDouble(this::slope).toArray());
        runs.forEach(run -> zeros.add(Math.abs(zero(run) - zero)));
        runs.forEach(run -> slopes.add(Math.abs(slope(run) - slope)));
      }
    }
    if (zeros.size() < ENOUGH) {
      return false;
    }
    zeroScale = ROBUST * Summary.median(zeros.stream().mapToDouble(d -> d).toArray());
    slopeScale = ROBUST * Summary.median(slopes.stream().mapToDouble(d -> d).toArray());
    return zeroScale > 0 && slopeScale > 0;
  }

  /** Zero in kg. */
  private double zero(RunFacts run) {
    return run.zero().orElse(0.0) / run.slope();
  }

  private double slope(RunFacts run) {
    return Math.log(run.slope());
  }

  /** Distance of a run from the unit of another, judged by that unit's runs but these two. */
  private double distance(RunFacts run, RunFacts unitOfThis, RunFacts alsoLeftOut) {
    List<RunFacts> others =
        byUnit.getOrDefault(unitOf.apply(unitOfThis), List.of()).stream()
            .filter(r -> !r.name().equals(unitOfThis.name()))
            .filter(r -> !r.name().equals(alsoLeftOut.name()))
            .toList();
    if (others.isEmpty()) {
      return 0;
    }
    double zero = Summary.median(others.stream().mapToDouble(this::zero).toArray());
    double slope = Summary.median(others.stream().mapToDouble(this::slope).toArray());
    return square((zero(run) - zero) / zeroScale) + square((slope(run) - slope) / slopeScale);
  }

  private static double square(double x) {
    return x * x;
  }

  private Optional<DataIssue> compare(RunFacts one, RunFacts other, RunFacts at) {
    double own = distance(one, one, other) + distance(other, other, one);
    double exchanged = distance(one, other, one) + distance(other, one, other);
    if (!(own > FAR && exchanged <= NEAR && exchanged * TIMES_NEARER < own)) {
      return Optional.empty();
    }
    Reading place = at.first();
    String message =
        String.format(
            Locale.ROOT,
            "runs %s and %s look as if their %ss were exchanged: zero and slope of run %s fit the"
                + " other runs of %s and those of run %s fit %s (distance %.0f as written, %.0f"
                + " exchanged); look at the labels, and correct it in decisions.csv",
            one.name(),
            other.name(),
            kind,
            one.name(),
            unitOf.apply(other),
            other.name(),
            unitOf.apply(one),
            own,
            exchanged);
    return Optional.of(
        DataIssue.warning(
            Code.PAIR_SWAPPED,
            place.source().file(),
            place.source().row(),
            kind,
            unitOf.apply(at),
            message));
  }
}
