package lotproof.report.assembly;

import static lotproof.report.words.Numbers.text;

import java.util.Optional;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.report.model.Verdict;
import lotproof.report.model.Verdict.Answer;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ClaimWords;
import lotproof.study.ClaimRequest;

/** The question, the answer, and what the data support. */
final class VerdictAssembly {
  private VerdictAssembly() {}

  static Verdict of(StudyResult result) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    String alone = subject == ClaimRequest.Subject.KIT ? "" : " for " + subject.plural() + " alone";
    String which = "Which figure can be printed" + alone + "?";
    Optional<ReportedLevel> leading = ReportedLevel.leading(result);
    if (leading.isEmpty()) {
      return new Verdict(which, Answer.NO, "None.", "The study asks for no calibration level.");
    }
    ReportedLevel level = leading.get();
    String question =
        level
            .claim()
            .wanted()
            .map(wanted -> "Print " + level.form().words(wanted.wantedGrams()) + alone + "?")
            .orElse(which);
    if (level.claim().outcome() instanceof LevelOutcome.NoFigure none) {
      return new Verdict(
          question,
          Answer.NO,
          AssumptionWords.shortage(none.why(), subject),
          new ClaimWords(result).sentence(level.claim()));
    }
    Figure figure = level.safest();
    String printable = level.form().words(figure.printableGrams());
    if (level.claim().wanted().isEmpty()) {
      return new Verdict(question, Answer.YES, printable + ", " + level.after() + ".", "");
    }
    LevelClaim.Verdict wanted = level.claim().wanted().get();
    double theseLots = figure.withinTheseLotsGrams().orElse(Double.MAX_VALUE);
    boolean lotsAlone = !wanted.supported() && theseLots <= wanted.wantedGrams();
    return new Verdict(
        question,
        wanted.supported() ? Answer.YES : Answer.NO,
        wanted.supported()
            ? "Yes, " + level.after() + "."
            : lotsAlone ? "Not enough lots." : "No, not " + level.after() + ".",
        text(
            "The data support %s%s.",
            printable, lotsAlone ? "; for these lots alone " + level.form().words(theseLots) : ""));
  }
}
