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
 * @param lot of the later lot; empty where nothing can be compared
 * @param uncorrectedRuns runs of the lot that cannot be corrected for temperature, where that is
 *     why
 */
record LaterLotCurves(
    List<ErrorCurve> study, List<ErrorCurve> lot, int uncorrectedRuns, Optional<Remark> remark) {
  /** The curves of a level that has a figure. */
  static LaterLotCurves of(StudyResult result, LevelClaim claim, List<ReducedRun> later) {
    Study study = result.study();
    LevelCurves.Found found = (LevelCurves.Found) result.curves(claim);
    List<ErrorCurve> own = SubjectRuns.of(study, found.judged());
    List<ErrorCurve> plain = LevelCurves.curves(study, later, claim.level(), found.correction());
    int uncorrected = later.size() - plain.size();
    if (found.correction().isEmpty() || (uncorrected == 0 && !found.changed())) {
      return new LaterLotCurves(own, plain, 0, Optional.empty());
    }
    if (uncorrected > 0) {
      return new LaterLotCurves(own, List.of(), uncorrected, Optional.empty());
    }
    TemperatureEffect effect = found.correction().get();
    if (LevelCurves.corrected(study, later, claim.level(), effect) instanceof LevelCurves.Found lot
        && pairs(lot.judged()) == pairs(plain)) {
      double farthest = lot.correction().orElseThrow().reachKelvin();
      Remark far = new Remark.FartherFromCalibration(claim.label(), farthest, effect.reachKelvin());
      return new LaterLotCurves(
          own,
          lot.judged(),
          0,
          farthest > effect.reachKelvin() ? Optional.of(far) : Optional.empty());
    }
    return new LaterLotCurves(
        SubjectRuns.of(study, found.atOneTemperature()),
        plain,
        0,
        Optional.of(new Remark.AtOneTemperature(claim.label())));
  }

  private static long pairs(List<ErrorCurve> curves) {
    return curves.stream().map(ErrorCurve::pair).distinct().count();
  }
}
