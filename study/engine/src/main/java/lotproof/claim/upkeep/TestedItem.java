package lotproof.claim.upkeep;

import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.Numbers;
import lotproof.claim.SubjectRuns;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;

/**
 * What a production test tests, in words for its sentences.
 *
 * @param subject kit, cell or board
 * @param one one of them, such as {@code kit} or {@code cell on the reference board R1}
 * @param description what has been done before reading
 * @param changeKelvin change of temperature between calibration and use that the figure holds for
 *     and the test does not make; absent where there is none
 */
record TestedItem(
    ClaimSubject subject, String one, String description, OptionalDouble changeKelvin) {

  /** A finished kit at a level. */
  static TestedItem kit(CalibrationLevel level) {
    return new TestedItem(ClaimSubject.KIT, "kit", level.description(), OptionalDouble.empty());
  }

  static TestedItem of(Study study, LevelClaim claim, Figure figure, boolean changesInTest) {
    String corrected =
        claim.correction().isPresent() ? ", corrected for temperature as in the study" : "";
    String change =
        changesInTest && figure.temperatureChangeKelvin().isPresent()
            ? ", calibrated at one temperature and read at another as in the study"
            : "";
    return new TestedItem(
        study.claim().subject(),
        SubjectRuns.one(study),
        claim.level().description() + corrected + change,
        changesInTest ? OptionalDouble.empty() : figure.temperatureChangeKelvin());
  }

  /** What the figure holds for beyond the test; empty where there is nothing. */
  String beyond() {
    return changeKelvin.isPresent()
        ? ", used up to "
            + Numbers.plain(Math.floor(10 * changeKelvin.getAsDouble()) / 10)
            + " K away from its calibration"
        : "";
  }
}
