package lotproof.claim;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.DoubleStream;
import lotproof.reduce.LoadRun;
import lotproof.study.Conditions;

/**
 * The temperatures for which a figure can speak: those that the study names, as far as the bench
 * saw them.
 *
 * @param lowestCelsius lowest temperature that is both named and seen
 * @param highestCelsius highest temperature that is both named and seen
 * @param recorded whether the bench recorded temperatures at all
 * @param remark what the reader must know; empty when the bench saw what the study names
 */
public record TemperatureRange(
    double lowestCelsius, double highestCelsius, boolean recorded, String remark) {
  private static final double NEARLY_CELSIUS = 1;

  static TemperatureRange of(Conditions conditions, List<LoadRun> runs) {
    Optional<DoubleSummaryStatistics> seen = seen(runs);
    if (seen.isEmpty()) {
      return new TemperatureRange(
          conditions.lowestCelsius(),
          conditions.highestCelsius(),
          false,
          "No temperature was recorded, so the figure holds at the bench's temperature, whatever it"
              + " was.");
    }
    double lowest = Math.max(conditions.lowestCelsius(), seen.get().getMin());
    double highest = Math.min(conditions.highestCelsius(), seen.get().getMax());
    List<String> remarks = new ArrayList<>();
    if (lowest > conditions.lowestCelsius() + NEARLY_CELSIUS
        || highest < conditions.highestCelsius() - NEARLY_CELSIUS) {
      remarks.add(
          String.format(
              Locale.ROOT,
              "The study names %s to %s °C, but the bench saw %.1f to %.1f °C; the claim names what"
                  + " the bench saw.",
              Numbers.plain(conditions.lowestCelsius()),
              Numbers.plain(conditions.highestCelsius()),
              seen.get().getMin(),
              seen.get().getMax()));
    }
    if (lowest > highest) {
      return new TemperatureRange(
          seen.get().getMin(),
          seen.get().getMax(),
          true,
          "The bench never was at the temperatures that the study names; the claim names what the"
              + " bench saw.");
    }
    return new TemperatureRange(lowest, highest, true, String.join(" ", remarks));
  }

  private static Optional<DoubleSummaryStatistics> seen(List<LoadRun> runs) {
    DoubleSummaryStatistics statistics =
        runs.stream()
            .flatMap(run -> run.readings().stream())
            .flatMapToDouble(
                r ->
                    DoubleStream.concat(
                        r.cellTemperatureCelsius().stream(), r.boardTemperatureCelsius().stream()))
            .summaryStatistics();
    return statistics.getCount() == 0 ? Optional.empty() : Optional.of(statistics);
  }

  /** The range inside a sentence, rounded inward to tenths. */
  public String words() {
    if (!recorded) {
      return "at the bench's temperature, which was not recorded";
    }
    double lowest = Math.ceil(lowestCelsius * 10) / 10;
    double highest = Math.floor(highestCelsius * 10) / 10;
    return lowest < highest
        ? "at " + Numbers.plain(lowest) + " to " + Numbers.plain(highest) + " °C"
        : "at " + Numbers.plain(Math.rint(lowestCelsius * 10) / 10) + " °C";
  }
}
