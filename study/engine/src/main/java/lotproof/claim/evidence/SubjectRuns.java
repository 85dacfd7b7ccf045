package lotproof.claim.evidence;

import java.util.Optional;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/** Which runs a claim can use, by what it is about. */
public final class SubjectRuns {
  private SubjectRuns() {}

  /**
   * Whether a run with these units counts: every run, but for a claim for cells or boards alone
   * with reference partners those of other units on the partner.
   */
  public static boolean holds(Study study, String cell, String board) {
    Optional<Design.ReferencePartners> reference = study.design().reference();
    ClaimRequest.Subject subject = study.claim().subject();
    if (reference.isEmpty() || subject == ClaimRequest.Subject.KIT) {
      return true;
    }
    boolean onBoard = board.equals(reference.get().board());
    boolean onCell = cell.equals(reference.get().cell());
    return subject == ClaimRequest.Subject.CELL ? onBoard && !onCell : onCell && !onBoard;
  }

  /** What the runs are of: units alone on a reference partner, or else kits. */
  public static ClaimRequest.Subject measured(Study study) {
    return onPartner(study) ? study.claim().subject() : ClaimRequest.Subject.KIT;
  }

  /** Whether units alone were measured on a reference partner. */
  public static boolean onPartner(Study study) {
    return study.claim().subject() != ClaimRequest.Subject.KIT
        && study.design().reference().isPresent();
  }
}
