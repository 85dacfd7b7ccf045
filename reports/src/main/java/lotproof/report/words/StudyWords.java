package lotproof.report.words;

import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import lotproof.claim.evidence.TemperatureRange;
import lotproof.claim.premise.SubjectRuns;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Study;

/** What a study measured, on what, when and how warm, in words. */
public final class StudyWords {

  private StudyWords() {}

  /** The range, rounded inward to tenths: {@code 19.6 to 23.8 °C}. */
  public static String temperature(TemperatureRange range) {
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
  public static String temperatureRemark(TemperatureRange range, Conditions conditions) {
    return switch (range.seen()) {
      case AS_NAMED -> "";
      case NOTHING ->
          "No temperature was recorded, so the figure holds at the bench's temperature, whatever it"
              + " was.";
      case NARROWER, OTHER ->
          text(
              "Planned %s to %s °C; only %s was measured, so the claim says that.",
              plain(conditions.lowestCelsius()),
              plain(conditions.highestCelsius()),
              temperature(range));
    };
  }

  /** A level as a person reads it, by the label of files, where the factory factor is none. */
  public static String level(String label) {
    return label.replaceFirst("^none\\b", "no calibration");
  }

  /** {@code the reference board R1}, or {@code an average board of the study}. */
  public static String partner(Study study) {
    boolean ofCells = study.claim().subject() == ClaimRequest.Subject.CELL;
    if (!SubjectRuns.onPartner(study)) {
      return "an average " + (ofCells ? "board" : "cell") + " of the study";
    }
    Design.ReferencePartners partners = study.design().reference().orElseThrow();
    return ofCells
        ? "the reference board " + partners.board()
        : (partners.dummyBridge() ? "the dummy bridge " : "the reference cell ") + partners.cell();
  }

  /** One of them: {@code kit}, {@code cell on the reference board R1}, {@code cell}. */
  public static String one(Study study) {
    String subject = study.claim().subject().key();
    return SubjectRuns.onPartner(study) ? subject + " on " + partner(study) : subject;
  }
}
