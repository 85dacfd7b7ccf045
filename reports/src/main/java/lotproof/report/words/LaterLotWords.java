package lotproof.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.claim.upkeep.LaterLotCalculator.Outcome;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LaterLotCheck.LevelCheck;
import lotproof.claim.upkeep.LaterLotCheck.Remark;
import lotproof.claim.upkeep.LaterLotCheck.Rule;
import lotproof.claim.upkeep.LaterLotCheck.Single;
import lotproof.study.Study;

/** What a check of a later lot found, in sentences. */
public final class LaterLotWords {
  private LaterLotWords() {}

  /** What speaks against the lot at a level; nothing when the claim holds. */
  public static List<String> broken(LevelCheck level) {
    return level.broken().stream().map(rule -> broken(level, rule)).toList();
  }

  private static String broken(LevelCheck level, Rule rule) {
    Single single = level.single();
    return switch (rule) {
      case BEYOND ->
          single.beyond()
              + " of "
              + single.kits()
              + " are beyond the figure of "
              + Numbers.plain(level.figureGrams())
              + " g, too many for a claim of "
              + Numbers.percent(level.content())
              + " %.";
      case EXTREME ->
          "One is "
              + Numbers.digits(single.furthestGrams(), 3)
              + " g from the study's mean; at most "
              + Numbers.digits(single.extremeGrams(), 3)
              + " g are expected.";
      case CONTENT ->
          String.format(
              Locale.ROOT,
              "Even the most favourable mean that these readings allow leaves only %.1f %% of the"
                  + " lot within the figure.",
              100 * single.bestContentFraction());
      case MEAN ->
          "The lot's mean of "
              + Numbers.digits(level.mean().grams(), 3)
              + " g is "
              + Numbers.digits(Math.abs(level.mean().grams() - level.mean().studyGrams()), 3)
              + " g from the study's; at most "
              + Numbers.digits(level.mean().limitGrams(), 3)
              + " g are expected.";
      case SPREAD ->
          "The lot's standard deviation is "
              + Numbers.digits(level.spread().grams().orElseThrow(), 3)
              + " g; at most "
              + Numbers.digits(level.spread().limitGrams().orElseThrow(), 3)
              + " g are expected.";
    };
  }

  /** What the reader must know of the whole check. */
  public static List<String> remarks(Study study, LaterLotCheck check) {
    List<String> sentences = new ArrayList<>();
    check.remarks().forEach(remark -> sentences.add(remark(study, remark)));
    if (check.kits() < check.allKits()) {
      sentences.add(
          check.allKits()
              + " "
              + check.subject().plural()
              + " share units; mean and spread are judged from "
              + check.kits()
              + " that share none.");
    }
    return sentences;
  }

  private static String remark(Study study, Remark remark) {
    if (remark instanceof Remark.OtherLoads other) {
      return Counts.of(other.runs(), "run") + " with other loads than the study: not compared.";
    }
    if (remark instanceof Remark.NotOfSubject other) {
      return Counts.of(other.runs(), "run")
          + " not of a "
          + SubjectWords.one(study)
          + ": not compared.";
    }
    if (remark instanceof Remark.NotCompared not) {
      return "Not compared: "
          + not.level()
          + (not.uncorrectedRuns() > 0
              ? "; " + Counts.of(not.uncorrectedRuns(), "run") + " without a temperature."
              : ".");
    }
    if (remark instanceof Remark.FartherFromCalibration far) {
      return String.format(
          Locale.ROOT,
          "%s: the lot was read up to %.1f K from its calibration, the study up to %.1f K.",
          far.level(),
          far.lotKelvin(),
          far.studyKelvin());
    }
    if (remark instanceof Remark.AtOneTemperature one) {
      return one.level()
          + ": not every kit of the lot was measured at two temperatures 2 K apart, so lot and"
          + " study are compared as calibrated and read at one temperature; whether the lot keeps"
          + " the figure after a change is not seen.";
    }
    if (remark instanceof Remark.OneLotStudied one) {
      return "The study saw one "
          + one.kind().key()
          + " lot. Whether lots differ is first seen here; the claim was made for that lot only.";
    }
    return "The claim is for "
        + study.claim().subject().plural()
        + " alone and the lot was measured as kits: mean, spread and single kits are compared with"
        + " the study's kits, and the figure with the partners' share left out as far as the study"
        + " knows it.";
  }

  /** Why a lot could not be checked, as the end of an error message. */
  public static String why(Study study, Outcome.Why why) {
    return switch (why) {
      case OTHER_LOADS -> "no run of the file has the study's loads, so nothing can be compared";
      case NOT_OF_SUBJECT ->
          "the claim is for a " + SubjectWords.one(study) + ", and no run of the file is of one";
      case NO_FIGURE -> "the study supports no figure";
      case NO_LEVEL -> "no level could be compared";
    };
  }
}
