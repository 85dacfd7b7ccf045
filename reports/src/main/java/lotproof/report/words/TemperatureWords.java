package lotproof.report.words;

import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import lotproof.claim.evidence.TemperatureRange;
import lotproof.study.Conditions;

/** The temperatures of a claim in words. */
public final class TemperatureWords {
  private TemperatureWords() {}

  /** The range, rounded inward to tenths: {@code 19.6 to 23.8 °C}. */
  public static String of(TemperatureRange range) {
    if (!range.recorded()) {
      return "the bench's temperature, which was not recorded";
    }
    double lowest = Math.ceil(range.lowestCelsius() * 10) / 10;
    double highest = Math.floor(range.highestCelsius() * 10) / 10;
    return lowest < highest
        ? plain(lowest) + " to " + plain(highest) + " °C"
        : plain(Math.rint(range.lowestCelsius() * 10) / 10) + " °C";
  }

  /** What the reader must know of it; empty when the bench saw what the study names. */
  public static String remark(TemperatureRange range, Conditions conditions) {
    return switch (range.seen()) {
      case AS_NAMED -> "";
      case NOTHING ->
          "No temperature was recorded, so the figure holds at the bench's temperature, whatever it"
              + " was.";
      case NARROWER, OTHER ->
          text(
              "Planned %s to %s °C; only %.1f to %.1f °C was measured, so the claim says that.",
              plain(conditions.lowestCelsius()),
              plain(conditions.highestCelsius()),
              range.seenLowestCelsius(),
              range.seenHighestCelsius());
    };
  }
}
