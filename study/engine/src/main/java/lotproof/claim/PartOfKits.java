package lotproof.claim;

import java.util.Optional;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.KnownSpread;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.LevelOutcome.Remark.WiderThanKits;
import lotproof.claim.premise.SubjectRuns;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Study;

/**
 * Why a figure for cells or boards alone is wider than that for kits from the same runs, if it is.
 *
 * <p>At one load a unit with an average partner has the mean of kits, and a kit's error is its own
 * and that of another unit, independent of it. Where the unit's error is symmetric about its mean
 * and unimodal, the other's symmetric and the content above 3/4 (above 1/2 where both are normal),
 * no more units than kits lie beyond a figure that keeps the content of kits (docs/method.md,
 * "Subjects"). So it is knowledge, not error, that makes such a figure wider: the part of units is
 * estimated less surely than the whole. On one partner for all the mean is another one.
 */
record PartOfKits(Study study, FigureCalculator.Computed.Found own) {

  /**
   * Compares with kits.
   *
   * @param kits the figure that the same runs give for kits
   */
  Optional<WiderThanKits> widerThan(FigureCalculator.Computed.Found kits) {
    Figure figure = own.outcome();
    if (figure.printableGrams() <= kits.outcome().printableGrams()) {
      return Optional.empty();
    }
    PointLimit worst = figure.worst();
    int at = figure.worstPoint();
    KnownSpread ofOwn = known(own, at);
    KnownSpread ofKits = known(kits, at);
    return Optional.of(
        new WiderThanKits(
            cause(ofOwn, ofKits),
            kits.outcome().printableGrams(),
            worst.loadKilograms(),
            worst.direction(),
            ofOwn,
            ofKits));
  }

  private WiderThanKits.Cause cause(KnownSpread ofOwn, KnownSpread ofKits) {
    if (own.outcome().tested().largestGrams() > own.outcome().modelGrams()) {
      return WiderThanKits.Cause.LARGEST_TESTED;
    }
    double z = DistributionQuantiles.normal(study.claim().content());
    double byMean = Math.abs(ofOwn.meanGrams()) - Math.abs(ofKits.meanGrams());
    double bySpread = z * (ofOwn.countedGrams() - ofKits.countedGrams());
    return SubjectRuns.onPartner(study) && byMean > bySpread
        ? WiderThanKits.Cause.PARTNER
        : WiderThanKits.Cause.UNCERTAINTY;
  }

  private KnownSpread known(FigureCalculator.Computed.Found found, int point) {
    double content = study.claim().content();
    double confidence = study.claim().confidence();
    FutureUnitLimits limits = found.model().limits(point, content, confidence);
    double weight = found.evidence().judged().weight(point);
    return new KnownSpread(
        found.evidence().judged().form().sign() * weight * limits.mean(),
        weight * limits.totalSd(),
        weight * found.model().countedSd(point, content, confidence));
  }
}
