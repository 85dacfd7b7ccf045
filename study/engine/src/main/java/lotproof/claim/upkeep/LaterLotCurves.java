package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.evidence.TemperatureEffect;
import lotproof.claim.premise.SubjectRuns;
import lotproof.claim.upkeep.LaterLotCheck.Remark;
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
 * @param uncorrectedRuns runs of the lot that cannot be corrected for temperature, where that is
 *     why
 * @param remark what the reader must know
 */
record LaterLotCurves(
    List<ErrorCurve> study, List<ErrorCurve> lot, int uncorrectedRuns, Optional<Remark> remark) {

  static LaterLotCurves of(StudyResult result, LevelClaim claim, List<ReducedRun> later) {
    Study study = result.study();
    if (claim.correction().isEmpty()) {
      List<ErrorCurve> lot = LevelCurves.curves(study, later, claim.level(), Optional.empty());
      return of(study, claim.curves(), lot);
    }
    if (!(result.curves(claim) instanceof LevelCurves.Found found)) {
      return of(study, claim.curves(), List.of());
    }
    TemperatureEffect effect = found.correction().orElseThrow();
    List<ErrorCurve> plain = LevelCurves.curves(study, later, claim.level(), Optional.of(effect));
    int missing = later.size() - plain.size();
    if (missing > 0) {
      return new LaterLotCurves(
          SubjectRuns.of(study, found.judged()), List.of(), missing, Optional.empty());
    }
    return found.changed()
        ? changed(study, found, plain, later, claim)
        : of(study, found.judged(), plain);
  }

  private static LaterLotCurves of(Study study, List<ErrorCurve> curves, List<ErrorCurve> lot) {
    return new LaterLotCurves(SubjectRuns.of(study, curves), lot, 0, Optional.empty());
  }

  private static LaterLotCurves changed(
      Study study,
      LevelCurves.Found found,
      List<ErrorCurve> plain,
      List<ReducedRun> later,
      LevelClaim claim) {
    TemperatureEffect effect = found.correction().orElseThrow();
    String level = claim.label();
    if (LevelCurves.corrected(study, later, claim.level(), effect) instanceof LevelCurves.Found lot
        && pairs(lot.judged()) == pairs(plain)) {
      double farthest = lot.correction().orElseThrow().reachKelvin();
      Optional<Remark> remark =
          farthest > effect.reachKelvin()
              ? Optional.of(
                  new Remark.FartherFromCalibration(level, farthest, effect.reachKelvin()))
              : Optional.empty();
      return new LaterLotCurves(SubjectRuns.of(study, found.judged()), lot.judged(), 0, remark);
    }
    return new LaterLotCurves(
        SubjectRuns.of(study, found.atOneTemperature()),
        plain,
        0,
        Optional.of(new Remark.AtOneTemperature(level)));
  }

  private static long pairs(List<ErrorCurve> curves) {
    return curves.stream().map(ErrorCurve::pair).distinct().count();
  }
}
