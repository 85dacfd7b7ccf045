package lotproof.claim;

import java.util.Optional;
import lotproof.study.ClaimSubject;
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
    ClaimSubject subject = study.claim().subject();
    if (reference.isEmpty() || subject == ClaimSubject.KIT) {
      return true;
    }
    boolean onBoard = board.equals(reference.get().board());
    boolean onCell = cell.equals(reference.get().cell());
    return subject == ClaimSubject.CELL ? onBoard && !onCell : onCell && !onBoard;
  }

  /**
   * What the claim is about, for a person, one of them: {@code kit}, {@code cell on the reference
   * board R1}, {@code board on the dummy bridge D1}, {@code cell}.
   */
  public static String one(Study study) {
    ClaimSubject subject = study.claim().subject();
    return subject.key() + partner(study).map(partner -> " on " + partner).orElse("");
  }

  /** What the runs are of: units alone on a reference partner, or else kits. */
  public static ClaimSubject measured(Study study) {
    return onPartner(study) ? study.claim().subject() : ClaimSubject.KIT;
  }

  /** Whether units alone were measured on a reference partner. */
  public static boolean onPartner(Study study) {
    return study.claim().subject() != ClaimSubject.KIT && study.design().reference().isPresent();
  }

  /** The reference partner that units alone were measured on, for a person. */
  public static Optional<String> partner(Study study) {
    return study
        .design()
        .reference()
        .flatMap(
            partners ->
                switch (study.claim().subject()) {
                  case KIT -> Optional.empty();
                  case CELL -> Optional.of("the reference board " + partners.board());
                  case BOARD ->
                      Optional.of(
                          (partners.dummyBridge() ? "the dummy bridge " : "the reference cell ")
                              + partners.cell());
                });
  }
}
