package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.TestedKits;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimSubject;

/**
 * What a figure is computed from, besides the model.
 *
 * @param level calibration level
 * @param judged error curves of all runs in the claim's form
 * @param guards what is added
 * @param largest largest error of each run, with its units and lots
 * @param parts what is fitted: all runs, or two halves on reference partners
 * @param shifts known values added at each point
 * @param partners the halves on reference partners, where the study has them
 */
@SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
record FigureEvidence(
    CalibrationLevel level,
    JudgedCurves judged,
    GuardBands guards,
    MeasuredValues largest,
    List<ModelPart> parts,
    double[] shifts,
    Optional<ReferencePartners> partners) {

  /** The plan of the only part, or of the cells. */
  FactorPlan plan() {
    return parts.get(0).plan();
  }

  boolean hasLots() {
    return parts.stream()
        .anyMatch(
            part ->
                part.plan().roles().contains(Role.CELL_LOT)
                    || part.plan().roles().contains(Role.BOARD_LOT));
  }

  /** Whether what the claim is about was itself tested: kits, or units on one partner for all. */
  boolean hasTested(ClaimSubject subject) {
    return partners.isEmpty()
        && (subject == ClaimSubject.KIT || largest.levels(partner(subject)) == 1);
  }

  /** What was tested, and how many of it share no unit. */
  TestedKits tested(ClaimSubject subject) {
    if (subject == ClaimSubject.KIT) {
      return TestedKits.of(largest);
    }
    return TestedKits.of(largest.without(Set.of(partner(subject))));
  }

  private static Role partner(ClaimSubject subject) {
    return subject == ClaimSubject.CELL ? Role.BOARD : Role.CELL;
  }
}
