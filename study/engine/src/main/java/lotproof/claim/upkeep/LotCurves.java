package lotproof.claim.upkeep;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelCurves;
import lotproof.claim.Numbers;
import lotproof.claim.StudyResult;
import lotproof.claim.SubjectRuns;
import lotproof.claim.TemperatureEffect;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ReducedRun;
import lotproof.study.Study;

/**
 * The curves of a study and of a later lot that can be held against each other at one level. A lot
 * is corrected for temperature with the study's coefficient. Where the figure holds for a change of
 * temperature between calibration and use and not every kit of the lot went through one, both are
 * taken as calibrated and read at one temperature.
 *
 * @param study of the study
 * @param lot of the later lot; empty where nothing can be compared
 * @param reason why the lot has none, as the end of a sentence
 * @param remarks what the reader must know
 */
record LotCurves(
    List<ErrorCurve> study, List<ErrorCurve> lot, String reason, List<String> remarks) {

  static LotCurves of(StudyResult result, LevelClaim claim, List<ReducedRun> later) {
    Study study = result.study();
    if (claim.correction().isEmpty()) {
      List<ErrorCurve> lot = LevelCurves.curves(study, later, claim.level(), Optional.empty());
      return new LotCurves(own(study, claim.curves()), lot, ".", List.of());
    }
    if (!(LevelCurves.of(result, claim) instanceof LevelCurves.Found found)) {
      return new LotCurves(own(study, claim.curves()), List.of(), ".", List.of());
    }
    TemperatureEffect.Estimated effect = found.correction().orElseThrow();
    List<ErrorCurve> plain = LevelCurves.curves(study, later, claim.level(), Optional.of(effect));
    if (plain.size() < later.size()) {
      return new LotCurves(
          own(study, found.judged()),
          List.of(),
          ", corrected for temperature: " + (later.size() - plain.size()) + " runs have none.",
          List.of());
    }
    if (!found.changed()) {
      return new LotCurves(own(study, found.judged()), plain, ".", List.of());
    }
    return changed(study, found, plain, later, claim);
  }

  private static LotCurves changed(
      Study study,
      LevelCurves.Found found,
      List<ErrorCurve> plain,
      List<ReducedRun> later,
      LevelClaim claim) {
    TemperatureEffect.Estimated effect = found.correction().orElseThrow();
    String level = LotChecks.label(claim);
    if (LevelCurves.corrected(study, later, claim.level(), effect) instanceof LevelCurves.Found lot
        && pairs(lot.judged()).count() == pairs(plain).count()) {
      double furthest = lot.correction().orElseThrow().reachKelvin();
      List<String> remarks =
          furthest > effect.reachKelvin()
              ? List.of(
                  String.format(
                      Locale.ROOT,
                      "%s: the lot was read up to %.1f K from its calibration, the study up to %.1f"
                          + " K.",
                      level,
                      furthest,
                      effect.reachKelvin()))
              : List.of();
      return new LotCurves(own(study, found.judged()), lot.judged(), ".", remarks);
    }
    return new LotCurves(
        own(study, found.atOneTemperature()),
        plain,
        ".",
        List.of(
            level
                + ": not every kit of the lot was measured at two temperatures "
                + Numbers.plain(TemperatureEffect.SMALLEST_RANGE_KELVIN)
                + " K apart, so lot and study are compared as calibrated and read at one"
                + " temperature; whether the lot keeps the figure after a change is not seen."));
  }

  private static Stream<String> pairs(List<ErrorCurve> curves) {
    return curves.stream().map(ErrorCurve::pair).distinct();
  }

  private static List<ErrorCurve> own(Study study, List<ErrorCurve> curves) {
    return curves.stream().filter(c -> SubjectRuns.holds(study, c.cell(), c.board())).toList();
  }
}
