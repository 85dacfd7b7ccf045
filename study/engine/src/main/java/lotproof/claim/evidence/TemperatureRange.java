package lotproof.claim.evidence;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.stream.DoubleStream;
import lotproof.reduce.LoadRun;
import lotproof.study.Conditions;

/**
 * The temperatures for which a figure can speak: those that the study names, as far as the bench
 * saw them.
 */
public record TemperatureRange(
    double lowestCelsius,
    double highestCelsius,
    double seenLowestCelsius,
    double seenHighestCelsius,
    Seen seen) {
  private static final double NEARLY_CELSIUS = 1;

  /** How what the bench saw compares with what the study names. */
  public enum Seen {
    /** No temperature was recorded. */
    NOTHING,
    AS_NAMED,
    /** Less than the study names. */
    NARROWER,
    /** No temperature that the study names. */
    OTHER
  }

  public static TemperatureRange of(Conditions conditions, List<LoadRun> runs) {
    double named = conditions.lowestCelsius();
    double namedHighest = conditions.highestCelsius();
    DoubleSummaryStatistics seen =
        runs.stream()
            .flatMap(run -> run.readings().stream())
            .flatMapToDouble(
                r ->
                    DoubleStream.concat(
                        r.beside().cellTemperatureCelsius().stream(),
                        r.beside().boardTemperatureCelsius().stream()))
            .summaryStatistics();
    if (seen.getCount() == 0) {
      return new TemperatureRange(named, namedHighest, named, namedHighest, Seen.NOTHING);
    }
    double lowest = Math.max(named, seen.getMin());
    double highest = Math.min(namedHighest, seen.getMax());
    if (lowest > highest) {
      return new TemperatureRange(
          seen.getMin(), seen.getMax(), seen.getMin(), seen.getMax(), Seen.OTHER);
    }
    boolean narrower = lowest > named + NEARLY_CELSIUS || highest < namedHighest - NEARLY_CELSIUS;
    return new TemperatureRange(
        lowest, highest, seen.getMin(), seen.getMax(), narrower ? Seen.NARROWER : Seen.AS_NAMED);
  }

  /** Whether the bench recorded temperatures at all. */
  public boolean recorded() {
    return seen != Seen.NOTHING;
  }
}
