package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.text;

import java.util.List;
import lotproof.claim.LevelClaim;
import lotproof.claim.evidence.Refusal;
import lotproof.model.ReferencePartners;
import lotproof.study.DataIssue;
import lotproof.study.Study;

/** Why a study supports no figure, in sentences. */
final class RefusalWords {
  private RefusalWords() {}

  /** The reason, with what would help. */
  public static String of(Study study, LevelClaim claim, Refusal refusal) {
    if (refusal instanceof Refusal.Plain plain) {
      return plain(study, plain.cause());
    }
    if (refusal instanceof Refusal.FarReadings far) {
      return far(far.issues());
    }
    if (refusal instanceof Refusal.NoTemperature none) {
      return text(
          "Run %s has no temperature, so a temperature correction cannot be judged.", none.run());
    }
    if (refusal instanceof Refusal.SmallTemperatureRange small) {
      return text(
          "The bench saw %s K of temperature; a mean coefficient needs at least %s K between the"
              + " coldest and the warmest run.",
          digits(small.seenKelvin(), 2), Numbers.plain(small.neededKelvin()));
    }
    if (refusal instanceof Refusal.NotJoined not) {
      return not.referenceRuns() < ReferencePartners.FEWEST_REFERENCE_RUNS
          ? text(
              "The reference pair was measured %s time(s); its own error enters every kit, so it"
                  + " has to be measured at least twice.",
              not.referenceRuns())
          : "At least two cells on the reference board and two boards on the reference cell are"
              + " needed.";
    }
    return refusal instanceof Refusal.Assumed assumed
        ? AssumptionWords.refusal(assumed.assumption(), claim.coverage())
        : ((Refusal.NotEstimable) refusal).reason();
  }

  /** Why nothing can be fitted, naming the first of some readings. */
  static String far(List<DataIssue> readings) {
    String others =
        readings.size() == 1 ? "" : ", and " + (readings.size() - 1) + " more readings are like it";
    return text(
        "A reading is so far from all others that a fit would show nothing else: %s%s.",
        readings.get(0).sentence(), others);
  }

  private static String plain(Study study, Refusal.Cause cause) {
    String subject = study.claim().subject().key();
    return switch (cause) {
      case NO_CALIBRATION_LOADS -> "No run has the loads that this calibration needs.";
      case ONE_RUN ->
          "Only one run was measured; how " + subject + "s differ cannot be known from it.";
      case NO_MASS_LIMIT ->
          "OIML R 111 has no limit of error for the masses and classes that the study names, so"
              + " their error cannot be bounded.";
      case NO_ERROR -> "All errors are zero, which no measurement shows.";
      case FEW_RUNS_ON_PARTNER -> "Fewer than two runs were made on the reference partner.";
      case CELLS_AND_BOARDS_MIXED ->
          text(
              "A figure for a %s alone needs runs that tell cells from boards: a rotation, blocks,"
                  + " a full crossing, or one reference partner for all.",
              subject);
      case NO_PARTNERS_NAMED -> "The study does not name its reference partners.";
      case TEMPERATURE_OF_UNITS ->
          "The runs cannot tell temperature from the units, so a mean coefficient cannot be"
              + " estimated.";
      case FEW_CHANGES_OF_TEMPERATURE ->
          "After a calibration, a temperature correction is judged on pairs that were measured"
              + " again at a temperature 2 K away or more; the record has fewer than two such"
              + " runs, so it does not show what is left of a change between calibration and use.";
    };
  }
}
