package lotproof.report.assembly;

import java.util.List;
import java.util.OptionalLong;
import lotproof.report.model.Headline;
import lotproof.report.model.Identity;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.words.SpreadWords;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.SpreadOutcome;

/** The report on a bare table of results: spread alone, no claim. */
public final class SpreadReport {
  private SpreadReport() {}

  /**
   * Assembles the report.
   *
   * @param title what was read
   * @param fileHash hash of the file
   * @param toolVersion version of the program
   * @param spread the spread of the table's values
   */
  public static Report of(
      String title, String fileHash, String toolVersion, CharacteristicSpread spread) {
    Identity identity =
        new Identity(
            title,
            "How far do units differ, and why?",
            fileHash,
            toolVersion,
            OptionalLong.empty(),
            spread.values().values().size() + " values");
    return new Report(
        identity,
        new Headline("", key(spread), List.of(), List.of(), List.of()),
        List.of(
            new Section(
                "spread",
                "How far do units differ, and why?",
                Prose.none(),
                SpreadTables.of(spread))));
  }

  private static Headline.KeyFigure key(CharacteristicSpread spread) {
    if (spread.outcome() instanceof SpreadOutcome.Estimated e) {
      return Headline.Supported.of(
          "Standard deviation of kits in " + spread.values().title(),
          "",
          Quantity.significant(e.limits().totalStandardDeviation(), spread.values().unit(), 4));
    }
    return new Headline.NotSupported(
        "Spread of " + spread.values().title(),
        SpreadWords.of((SpreadOutcome.NotEstimable) spread.outcome()));
  }
}
