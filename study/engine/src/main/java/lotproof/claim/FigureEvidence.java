package lotproof.claim;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.TestedKits;
import lotproof.statistics.components.ComponentWeights;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimSubject;

/**
 * What a figure is computed from, besides the model.
 *
 * @param level calibration level
 * @param judged error curves in the claim's form
 * @param guards what is added
 * @param largest largest error of each run, with its units and lots
 * @param plan factors of the model
 * @param weights how components enter what the claim is about
 */
record FigureEvidence(
    CalibrationLevel level,
    JudgedCurves judged,
    GuardBands guards,
    MeasuredValues largest,
    FactorPlan plan,
    ComponentWeights weights) {

  /** Whether what the claim is about was itself tested: kits, or units on one partner for all. */
  boolean hasTested(ClaimSubject subject) {
    return subject == ClaimSubject.KIT || largest.levels(partner(subject)) == 1;
  }

  /** What was tested, and how many of it share no unit. */
  TestedKits tested(ClaimSubject subject) {
    if (subject == ClaimSubject.KIT) {
      return TestedKits.of(largest);
    }
    Map<Role, List<String>> labels = new EnumMap<>(largest.labels());
    labels.remove(partner(subject));
    return TestedKits.of(
        new MeasuredValues(
            largest.key(), largest.title(), largest.unit(), largest.values(), labels));
  }

  private static Role partner(ClaimSubject subject) {
    return subject == ClaimSubject.CELL ? Role.BOARD : Role.CELL;
  }
}
