package lotproof.report.words;

import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
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
    return level.judgement().broken().stream().map(rule -> broken(level, rule)).toList();
  }

  private static String broken(LevelCheck level, Rule rule) {
    Single single = level.judgement().single();
    return switch (rule) {
      case BEYOND ->
          text(
              "%s of %s are beyond the figure of %s g, too many for a claim of %s %%.",
              single.beyond(), single.kits(), plain(level.figureGrams()), percent(level.content()));
      case EXTREME ->
          text(
              "One is %s g from the study's mean; at most %s g are expected.",
              digits(single.furthestGrams(), 3), digits(single.extremeGrams(), 3));
      case CONTENT ->
          text(
              "Even the most favourable mean that these readings allow leaves only %.1f %% of the"
                  + " lot within the figure.",
              100 * single.bestContentFraction());
      case MEAN ->
          text(
              "The lot's mean of %s g is %s g from the study's; at most %s g are expected.",
              digits(level.judgement().mean().grams(), 3),
              digits(
                  Math.abs(
                      level.judgement().mean().grams() - level.judgement().mean().studyGrams()),
                  3),
              digits(level.judgement().mean().limitGrams(), 3));
      case SPREAD ->
          text(
              "The lot's standard deviation is %s g; at most %s g are expected.",
              digits(level.judgement().spread().grams().orElseThrow(), 3),
              digits(level.judgement().spread().limitGrams().orElseThrow(), 3));
    };
  }

  /** What the reader must know of the whole check. */
  public static List<String> remarks(Study study, LaterLotCheck check) {
    List<String> sentences = new ArrayList<>();
    check.remarks().forEach(remark -> sentences.add(remark(study, remark)));
    if (check.kits() < check.allKits()) {
      sentences.add(
          text(
              "%s %s share units; mean and spread are judged from %s that share none.",
              check.allKits(), check.subject().plural(), check.kits()));
    }
    return sentences;
  }

  private static String remark(Study study, Remark remark) {
    if (remark instanceof Remark.OtherLoads other) {
      return counted(other.runs(), "run") + " with other loads than the study: not compared.";
    }
    if (remark instanceof Remark.NotOfSubject other) {
      return text(
          "%s not of a %s: not compared.", counted(other.runs(), "run"), StudyWords.one(study));
    }
    if (remark instanceof Remark.NotCompared not) {
      return text(
          "Not compared: %s%s",
          StudyWords.level(not.level()),
          not.uncorrectedRuns() > 0
              ? "; " + counted(not.uncorrectedRuns(), "run") + " without a temperature."
              : ".");
    }
    if (remark instanceof Remark.FartherFromCalibration far) {
      return text(
          "%s: the lot was read up to %.1f K from its calibration, the study up to %.1f K.",
          StudyWords.level(far.level()), far.lotKelvin(), far.studyKelvin());
    }
    if (remark instanceof Remark.AtOneTemperature one) {
      return text(
          "%s: not every kit of the lot was measured at two temperatures 2 K apart, so lot and"
              + " study are compared as calibrated and read at one temperature; whether the lot"
              + " keeps the figure after a change is not seen.",
          StudyWords.level(one.level()));
    }
    if (remark instanceof Remark.MatchedKits matched) {
      return text(
          "The claim is for kits whose board was matched to its cell: %s of the lot, whose partners"
              + " had met nobody before, %s compared with such kits of the study%s. A lot whose"
              + " kits were not matched in the same way needs a study of its own.",
          counted(matched.kits(), "kit"),
          matched.kits() == 1 ? "is" : "are",
          matched.leftOut() > 0
              ? "; " + counted(matched.leftOut(), "further pair") + " left out"
              : "");
    }
    if (remark instanceof Remark.OneLotStudied one) {
      return text(
          "The study saw one %s lot. Whether lots differ is first seen here; the claim was made for"
              + " that lot only.",
          one.kind().key());
    }
    return text(
        "The claim is for %s alone and the lot was measured as kits: mean, spread and single kits"
            + " are compared with the study's kits, and the figure with the partners' share left"
            + " out as far as the study knows it.",
        study.claim().subject().plural());
  }

  /** Why a lot could not be checked, as the end of an error message. */
  public static String why(Study study, Outcome.Why why) {
    return switch (why) {
      case OTHER_LOADS -> "no run of the file has the study's loads, so nothing can be compared";
      case NOT_OF_SUBJECT ->
          "the claim is for a " + StudyWords.one(study) + ", and no run of the file is of one";
      case NO_FIGURE -> "the study supports no figure";
      case NO_LEVEL -> "no level could be compared";
    };
  }
}
