package lotproof.gather.plausibility;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;

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

  private final PlausibilityChecks found;
  private final List<Run> all;
  private final Set<String> fresh;
  private final Set<String> told = new HashSet<>();

  SwappedPairs(PlausibilityChecks found, List<Run> known, List<Run> fresh) {
    this.found = found;
    this.fresh = fresh.stream().map(Run::name).collect(Collectors.toSet());
    this.all =
        Stream.concat(known.stream(), fresh.stream())
            .filter(run -> run.zero().isPresent() && run.slope() > 0)
            .toList();
  }

  void check() {
    if (all.size() <= MOST_RUNS) {
      check(ReadingColumn.CELL);
      check(ReadingColumn.BOARD);
    }
  }

  private void check(ReadingColumn kind) {
    Function<Run, String> unitOf = kind == ReadingColumn.CELL ? Run::cell : Run::board;
    Map<String, List<Run>> byUnit = all.stream().collect(Collectors.groupingBy(unitOf));
    double zeroScale = scatter(byUnit, SwappedPairs::zeroKilograms);
    double slopeScale = scatter(byUnit, SwappedPairs::logSlope);
    if (!(zeroScale > 0 && slopeScale > 0)) {
      return;
    }
    Distance distance =
        (run, like, alsoLeftOut) -> {
          List<Run> others =
              byUnit.getOrDefault(unitOf.apply(like), List.of()).stream()
                  .filter(other -> !other.name().equals(like.name()))
                  .filter(other -> !other.name().equals(alsoLeftOut.name()))
                  .toList();
          double zero = off(run, others, SwappedPairs::zeroKilograms) / zeroScale;
          double slope = off(run, others, SwappedPairs::logSlope) / slopeScale;
          return others.isEmpty() ? 0 : zero * zero + slope * slope;
        };
    List<Run> odd = all.stream().filter(run -> distance.of(run, run, run) > FAR / 4).toList();
    for (int i = 0; i < odd.size(); i++) {
      for (int j = i + 1; j < odd.size(); j++) {
        Run one = odd.get(i);
        Run other = odd.get(j);
        if (one.first().session().equals(other.first().session())
            && (fresh.contains(one.name()) || fresh.contains(other.name()))
            && !unitOf.apply(one).equals(unitOf.apply(other))
            && !told.contains(one.name())
            && !told.contains(other.name())) {
          compare(kind, one, other, unitOf, distance);
        }
      }
    }
  }

  /** How far a run lies from the unit of another, by that unit's runs but these two. */
  private interface Distance {
    double of(Run run, Run like, Run alsoLeftOut);
  }

  private static double zeroKilograms(Run run) {
    return run.zero().orElse(0.0) / run.slope();
  }

  private static double logSlope(Run run) {
    return Math.log(run.slope());
  }

  private static double off(Run run, List<Run> others, Function<Run, Double> value) {
    return others.isEmpty()
        ? 0
        : value.apply(run) - PlausibilityChecks.median(others.stream().map(value).toList());
  }

  /** How far runs of one unit lie from their median; 0 where there are too few of them. */
  private static double scatter(Map<String, List<Run>> byUnit, Function<Run, Double> value) {
    List<Double> distances =
        byUnit.values().stream()
            .filter(runs -> runs.size() > 1)
            .flatMap(runs -> runs.stream().map(run -> Math.abs(off(run, runs, value))))
            .toList();
    return ROBUST * PlausibilityChecks.median(distances, ENOUGH).orElse(0.0);
  }

  private void compare(
      ReadingColumn kind, Run one, Run other, Function<Run, String> unitOf, Distance distance) {
    double own = distance.of(one, one, other) + distance.of(other, other, one);
    double exchanged = distance.of(one, other, one) + distance.of(other, one, other);
    if (!(own > FAR && exchanged <= NEAR && exchanged * TIMES_NEARER < own)) {
      return;
    }
    told.addAll(List.of(one.name(), other.name()));
    found.warn(
        Code.PAIR_SWAPPED,
        (fresh.contains(one.name()) ? one : other).first(),
        kind,
        String.format(
            Locale.ROOT,
            "runs %s and %s look as if their %ss were exchanged: zero and slope of run %s fit the"
                + " other runs of %s and those of run %s fit %s (distance %.0f as written, %.0f"
                + " exchanged); look at the labels, and correct it in decisions.csv",
            one.name(),
            other.name(),
            kind.word(),
            one.name(),
            unitOf.apply(other),
            other.name(),
            unitOf.apply(one),
            own,
            exchanged));
  }
}
