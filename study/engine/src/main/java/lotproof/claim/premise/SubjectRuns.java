package lotproof.claim.premise;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import lotproof.reduce.UnitPair;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** Which runs a claim can use, by what it is about. */
public final class SubjectRuns {
  private SubjectRuns() {}

  /**
   * Whether what was measured on these units counts: all, but for a claim for cells or boards alone
   * with reference partners what other units gave on the partner.
   */
  public static boolean holds(Study study, UnitPair pair) {
    return holds(study, pair.cell(), pair.board());
  }

  /** Those that count. */
  public static <T extends UnitPair> List<T> of(Study study, Collection<T> all) {
    return all.stream().filter(pair -> holds(study, pair)).toList();
  }

  static boolean holds(Study study, String cell, String board) {
    Optional<Design.ReferencePartners> reference = study.design().reference();
    ClaimRequest.Subject subject = study.claim().subject();
    if (reference.isEmpty() || subject == ClaimRequest.Subject.KIT) {
      return true;
    }
    boolean onBoard = board.equals(reference.get().board());
    boolean onCell = cell.equals(reference.get().cell());
    return subject == ClaimRequest.Subject.CELL ? onBoard && !onCell : onCell && !onBoard;
  }

  /** Whether the claim needs units of a kind: on one partner for all those of its own alone. */
  static boolean needs(Study study, UnitKind kind) {
    return !onPartner(study)
        || (study.claim().subject() == ClaimRequest.Subject.CELL) == (kind == UnitKind.CELL);
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
