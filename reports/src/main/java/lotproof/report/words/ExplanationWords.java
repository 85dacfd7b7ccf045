package lotproof.report.words;

import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.Locale;
import lotproof.claim.Explanation;
import lotproof.claim.Explanation.Rule;
import lotproof.claim.Explanation.What;
import lotproof.claim.LevelClaim;
import lotproof.claim.evidence.GuardBands;
import lotproof.study.Study;

/** The tree behind a figure, in words. */
public final class ExplanationWords {
  private final Study study;
  private final LevelClaim claim;
  private final String subject;

  /** Speaks of the figure of a claim. */
  public ExplanationWords(Study study, LevelClaim claim) {
    this.study = study;
    this.claim = claim;
    this.subject = study.claim().subject().key();
  }

  /** What a number is. */
  public String label(Explanation node) {
    What what = node.what();
    if (what instanceof What.Of of) {
      return switch (of.quantity()) {
        case PRINTABLE_FIGURE -> "Printable figure";
        case LIMIT -> "Limit";
        case BOUND_FOR_ANY -> "Limit for any " + subject;
        case ROUNDING_STEP -> "Rounding step";
        case BOUND_BY_MODEL, SIDE_TEST_MODEL -> "Limit by the model";
        case MEAN_ERROR -> "Mean error";
        case BOUND_OVER_ALL_LOADS -> "Limit over all loads together";
        case SIDE_TEST_LARGEST -> "Largest effect over the tested " + subject + "s";
        case FORM_WEIGHT -> "Weight at the load";
        case OUTPUT_WITHOUT_LOAD -> "Output without load";
        case OUTPUT_AT_LOAD -> "Output at the load";
        case APPLIED_LOAD -> "Applied load";
        case FACTORY_FACTOR -> "Factory default factor";
        case CALIBRATION_MASS -> "Calibration mass";
        case OUTPUT_AT_CALIBRATION_MASS -> "Output at the calibration mass";
      };
    }
    if (what instanceof What.GuardBand guard) {
      return "Guard band: " + lower(FigureWords.title(guard.kind()));
    }
    if (what instanceof What.SideTestAllowance side) {
      return "Allowance for " + lower(side.effect().title());
    }
    if (what instanceof What.Spread spread) {
      return spread.title();
    }
    if (what instanceof What.LimitAtLoad at) {
      return text(
          "Limit at the worst load, %s kg %s", plain(at.loadKilograms()), at.direction().word());
    }
    if (what instanceof What.LargestTested) {
      return text(
          "Largest error over the tested %ss%s",
          subject, node.rule() == Rule.SHARE ? ", as the constant part of the figure" : "");
    }
    if (what instanceof What.VirtualKits kits) {
      return "Virtual kits, number " + kits.rank() + " from the top";
    }
    What.ErrorOfReading error = (What.ErrorOfReading) what;
    return text(
        "Error of reading of %s at %s kg %s, run %s",
        error.pair(), plain(error.loadKilograms()), error.direction().word(), error.run());
  }

  private static String lower(String title) {
    return title.substring(0, 1).toLowerCase(Locale.ROOT) + title.substring(1);
  }

  /** How a number follows from its parts, or where it comes from. */
  public String how(Explanation node) {
    What what = node.what();
    if (node.source().isPresent()) {
      return "as read";
    }
    if (what instanceof What.Of of) {
      return switch (of.quantity()) {
        case PRINTABLE_FIGURE -> "rounded outward to the study's step";
        case LIMIT -> "the limit for any " + subject + " plus the guard bands";
        case BOUND_FOR_ANY -> "the larger of the model's limit and the tested " + subject + "s";
        case ROUNDING_STEP -> "study.yaml, claim";
        case BOUND_BY_MODEL -> "the larger of the worst load and all loads together";
        case MEAN_ERROR -> "estimated mean of all " + subject + "s";
        case BOUND_OVER_ALL_LOADS ->
            text(
                "what the largest error over all loads of a future %s does not exceed, from the"
                    + " means and covariances of the loads",
                subject);
        case SIDE_TEST_MODEL ->
            "limit about zero for a future " + subject + " over all steps of the side test";
        case SIDE_TEST_LARGEST -> "readings of the side test";
        case FORM_WEIGHT -> "form of the claim";
        case FACTORY_FACTOR -> "study.yaml, kit";
        default -> "";
      };
    }
    if (what instanceof What.GuardBand guard) {
      return how(guard.kind());
    }
    if (what instanceof What.SideTestAllowance side) {
      return text(
          "the larger of the model's limit and the tested %ss, from %s of the side test",
          subject, counted(side.runs(), "run"));
    }
    if (what instanceof What.Spread) {
      return "standard deviation by restricted maximum likelihood";
    }
    if (what instanceof What.LimitAtLoad) {
      return "limit about zero for a future " + subject + " from mean and components";
    }
    if (what instanceof What.LargestTested tested) {
      return text(
          "found on %s%s",
          tested.pair(),
          node.rule() == Rule.SHARE
              ? "; size of the error over the form's weight at the load"
              : "");
    }
    return what instanceof What.VirtualKits kits
        ? "of " + kits.kits() + " sums of a cell and a board on reference partners"
        : text(
            "indication %s%s, minus the applied load",
            claim.level().description(),
            node.rule() == Rule.ERROR_OF_READING ? "" : ", corrected for temperature");
  }

  private String how(GuardBands.Kind kind) {
    return switch (kind) {
      case BENCH_MASSES ->
          text(
              "OIML R 111-1 limit of class %s at the worst load",
              study.conditions().benchMassClass().key());
      case BUYER_MASSES ->
          "OIML R 111-1 limit of the calibration masses, carried to the worst load";
      case BETWEEN_LOADS -> "curvature between tested loads: step^2/8 times the largest bend";
      case REFERENCE -> "twice the standard error of its mean at the worst load";
      case DRIFT -> "what the runs of the check standard cannot exclude, at the worst load";
      case TEMPERATURE_CORRECTION ->
          "thermometer and uncertainty of the mean coefficient, at the largest load";
    };
  }
}
