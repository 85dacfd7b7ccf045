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
import lotproof.study.Study;

/**
 * What a figure is computed from, besides the model.
 *
 * @param judged error curves of all runs in the claim's form
 * @param largest largest error of each run, with its units and lots
 * @param parts what a fit speaks of: all runs, or two halves on reference partners
 * @param virtual the kits put together from those halves, where the study has reference partners
 */
record FigureEvidence(
    Study study,
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

  double content() {
    return study.claim().content();
  }

  double confidence() {
    return study.claim().confidence();
  }

  ClaimRequest.Subject subject() {
    return study.claim().subject();
  }

  private boolean ofKits() {
    return subject() == ClaimRequest.Subject.KIT;
  }

  /** Kits that were tested, or units that the claim is about, measured alone or in kits. */
  int measured() {
    return ofKits()
        ? hasTested() ? tested().first().size() : 0
        : largest.levels(subject() == ClaimRequest.Subject.CELL ? Role.CELL : Role.BOARD);
  }

  private Role partner() {
    return subject() == ClaimRequest.Subject.CELL ? Role.BOARD : Role.CELL;
  }

  /** Whether what the claim is about was itself tested: kits, or units on one partner for all. */
  boolean hasTested() {
    return virtual.isEmpty() && (ofKits() || largest.levels(partner()) == 1);
  }

  /** The largest errors with what is known of the units that the claim is about. */
  MeasuredValues ofSubject() {
    Set<Role> partner = subject() == ClaimRequest.Subject.CELL ? Role.OF_BOARDS : Role.OF_CELLS;
    return ofKits() ? largest : largest.without(partner);
  }

  /** What was tested, and how many of it share no unit. */
  TestedKits tested() {
    return TestedKits.of(ofSubject());
  }

  /**
   * Largest errors of the tested kits, ascending, of some of them; nothing where none is tested.
   */
  double[] ascending(List<Integer> kits) {
    return hasTested()
        ? kits.stream().mapToDouble(largest.values()::get).sorted().toArray()
        : new double[0];
  }
}
