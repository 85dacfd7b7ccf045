package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.CurveValues;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.model.Role;
import lotproof.spread.TestedKits;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest;

/**
 * What a figure is computed from, besides the model.
 *
 * @param level calibration level
 * @param judged error curves of all runs in the claim's form
 * @param guards what is added
 * @param largest largest error of each run, with its units and lots
 * @param parts what a fit speaks of: all runs, or two halves on reference partners
 * @param values what is fitted
 * @param virtual the kits put together from those halves, where the study has reference partners
 */
record FigureEvidence(
    CalibrationLevel level,
    ErrorsInClaimForm judged,
    GuardBands guards,
    MeasuredValues largest,
    List<ModelPart> parts,
    CurveValues values,
    Optional<VirtualKits> virtual) {

  /** The plan of the only part, or of the cells. */
  FactorPlan plan() {
    return parts.get(0).plan();
  }

  boolean hasLots() {
    return parts.stream().anyMatch(part -> part.plan().hasLots());
  }

  /** Whether what the claim is about was itself tested: kits, or units on one partner for all. */
  boolean hasTested(ClaimRequest.Subject subject) {
    return virtual.isEmpty()
        && (subject == ClaimRequest.Subject.KIT || largest.levels(partner(subject)) == 1);
  }

  /** What was tested, and how many of it share no unit. */
  TestedKits tested(ClaimRequest.Subject subject) {
    if (subject == ClaimRequest.Subject.KIT) {
      return TestedKits.of(largest);
    }
    return TestedKits.of(largest.without(Set.of(partner(subject))));
  }

  private static Role partner(ClaimRequest.Subject subject) {
    return subject == ClaimRequest.Subject.CELL ? Role.BOARD : Role.CELL;
  }
}
