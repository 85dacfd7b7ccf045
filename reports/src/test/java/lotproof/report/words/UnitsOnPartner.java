package lotproof.report.words;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.report.assembly.DemoResult;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/** The demo's study as one of boards on a dummy bridge, or of cells on a reference board. */
final class UnitsOnPartner {
  private UnitsOnPartner() {}

  static Study boards() {
    return of(ClaimRequest.Subject.BOARD);
  }

  static Study cells() {
    return of(ClaimRequest.Subject.CELL);
  }

  private static Study of(ClaimRequest.Subject subject) {
    Study demo = DemoResult.get().study();
    ClaimRequest claim = demo.claim();
    Design design =
        new Design(
            Design.Kind.REFERENCE_PARTNER,
            demo.design().loadsKilograms(),
            List.of(),
            Optional.of(new Design.ReferencePartners("rc", "rb", true)),
            List.of(),
            Design.Pairing.NOT_STATED);
    return new Study(
        demo.title(),
        demo.question(),
        demo.seed(),
        demo.kit(),
        demo.units(),
        design,
        demo.referenceLine(),
        demo.limits(),
        demo.causes(),
        new ClaimRequest(
            claim.content(),
            claim.confidence(),
            claim.roundingGrams(),
            new ClaimForm.Symmetric(),
            subject,
            OptionalDouble.empty(),
            claim.levels()),
        demo.conditions(),
        demo.influences());
  }
}
