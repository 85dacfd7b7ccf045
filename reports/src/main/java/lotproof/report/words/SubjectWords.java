package lotproof.report.words;

import lotproof.claim.premise.SubjectRuns;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/** What a claim is about, in words. */
public final class SubjectWords {
  private SubjectWords() {}

  /** {@code the reference board R1}, or {@code an average board of the study}. */
  public static String partner(Study study) {
    boolean ofCells = study.claim().subject() == ClaimRequest.Subject.CELL;
    if (!SubjectRuns.onPartner(study)) {
      return "an average " + (ofCells ? "board" : "cell") + " of the study";
    }
    Design.ReferencePartners partners = study.design().reference().orElseThrow();
    return ofCells
        ? "the reference board " + partners.board()
        : (partners.dummyBridge() ? "the dummy bridge " : "the reference cell ") + partners.cell();
  }

  /** One of them: {@code kit}, {@code cell on the reference board R1}, {@code cell}. */
  public static String one(Study study) {
    String subject = study.claim().subject().key();
    return SubjectRuns.onPartner(study) ? subject + " on " + partner(study) : subject;
  }
}
