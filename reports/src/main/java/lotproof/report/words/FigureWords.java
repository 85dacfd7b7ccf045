package lotproof.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.SideAllowance;
import lotproof.model.Role;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/** What stands beside a figure, in words. */
public final class FigureWords {
  private FigureWords() {}

  /** What the reader of a figure must know. */
  public static List<String> remarks(Study study, Figure figure) {
    List<String> sentences = new ArrayList<>();
    figure.remarks().forEach(remark -> sentences.add(remark(study, figure, remark)));
    figure.guards().sides().forEach(side -> sentences.add(side(side)));
    return sentences;
  }

  private static String remark(Study study, Figure figure, Remark remark) {
    ClaimRequest claim = study.claim();
    String subject = claim.subject().key();
    if (remark instanceof Remark.VirtualKits kits) {
      return virtualKits(study, kits);
    }
    if (remark instanceof Remark.ModelOnly) {
      return "The figure is for a "
          + subject
          + " alone, with an average partner: it comes from the model, and no tested kit bounds it"
          + " without one.";
    }
    if (remark instanceof Remark.NeedsNormality needs) {
      return String.format(
          Locale.ROOT,
          "The figure for %s %% of %ss holds if the spread is normal. The tested %ss alone support"
              + " %.3g %%.",
          Numbers.percent(claim.content()),
          subject,
          subject,
          100 * needs.supportedFraction());
    }
    if (remark instanceof Remark.FewKits few) {
      return String.format(
          Locale.ROOT,
          "%d %ss%s are few: without a model they support %.3g %% of %ss, so the figure depends on"
              + " normality.",
          few.kits(),
          subject,
          claim.subject() == ClaimRequest.Subject.KIT ? " that share no unit" : "",
          100 * few.supportedFraction(),
          subject);
    }
    if (remark instanceof Remark.OneSided) {
      // docs/guarantees.md; fifty kits do not show it
      return "A limit on one side depends more on the shape of the spread than one on both sides:"
          + " in simulated studies with a light skew (0.5), which fifty units seldom show, the"
          + " model's limit on the long side held in 85 to 91 of 100 where 95 were asked.";
    }
    if (remark instanceof Remark.LotsWiden widen) {
      return String.format(
          Locale.ROOT,
          "%s, which makes the figure %.2g times as wide%s. For these lots alone it would be %s.",
          claim.assumedLotRatio().isPresent()
              ? "How lots differ is assumed, not measured (lots spread "
                  + Numbers.plain(claim.assumedLotRatio().getAsDouble())
                  + " times as far as units of one lot)"
              : "Few lots say little about lot-to-lot spread",
          widen.ratio(),
          claim.assumedLotRatio().isPresent() ? "" : "; more lots would tighten it",
          claim.form().words(figure.withinTheseLotsGrams().orElseThrow()));
    }
    if (remark instanceof Remark.SideTestTooSmall small) {
      return small.effect().title()
          + ": "
          + Counts.of(small.runs(), "run")
          + " with the loads of the side test; how "
          + subject
          + "s differ in it cannot be known from fewer than two.";
    }
    return remark instanceof Remark.SideTestNotFitted not
        ? not.effect().title() + ": the runs cannot be fitted, so nothing is known."
        : SpreadWords.of(((Remark.LeftOut) remark).note());
  }

  private static String virtualKits(Study study, Remark.VirtualKits kits) {
    boolean dummy =
        study.design().reference().map(Design.ReferencePartners::dummyBridge).orElse(false);
    return "No kit was measured: cells and boards met reference partners only. The data's own bound"
        + " is number "
        + kits.rank()
        + " from the top of "
        + kits.kits()
        + " virtual kits, whose confidence is simulated, not proven. What a cell and a board do to"
        + " each other is "
        + (dummy
            ? "not seen at all where boards met a dummy bridge"
            : "seen only against the reference partners")
        + "; bench error counts twice, which errs on the safe side.";
  }

  private static String side(SideAllowance side) {
    return side.test().effect().title()
        + ": "
        + Numbers.digits(side.grams(), 3)
        + " g are added for "
        + side.test().covers()
        + ", from "
        + Counts.of(side.runs(), "run")
        + ", of which "
        + side.kits()
        + " share no unit"
        + (side.withoutLots() ? "; too few lots were tested to say how lots differ in it." : ".");
  }

  /** The name of a guard band. */
  public static String title(GuardBands.Kind kind) {
    return switch (kind) {
      case BENCH_MASSES -> "Bench masses";
      case BUYER_MASSES -> "Buyer's masses";
      case BETWEEN_LOADS -> "Loads between the tested ones";
      case REFERENCE -> "Reference pair's own error";
      case DRIFT -> "Drift of the bench between lots";
      case TEMPERATURE_CORRECTION -> "Temperature correction";
    };
  }

  /** The name of a contributor. */
  public static String title(Contributor contributor, ClaimRequest.Subject subject) {
    if (contributor instanceof Contributor.Spread spread) {
      return spread.title()
          + switch (spread.part()) {
            case WHOLE -> "";
            case PROPORTIONAL -> Role.OF_CELLS.contains(spread.role()) ? ": sensitivity" : ": gain";
            case SHAPE -> ": shape of the curve";
          };
    }
    if (contributor instanceof Contributor.Guard guard) {
      return title(guard.kind());
    }
    return contributor instanceof Contributor.Side side
        ? side.effect().title()
        : "Mean error of all " + subject.plural();
  }
}
