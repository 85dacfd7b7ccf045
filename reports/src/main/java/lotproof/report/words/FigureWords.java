package lotproof.report.words;

import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.Remedy;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.Role;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/** What stands beside a figure, and what would make a wanted one supportable, in words. */
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
    if (remark instanceof Remark.ModelOnly only) {
      return text(
          "The figure is for a %s alone, with an average partner: %s %ss were measured, in %s kits"
              + " and none alone, so it comes from the model, and no tested kit bounds it without"
              + " one.",
          subject, only.units(), subject, only.kits());
    }
    if (remark instanceof Remark.WiderThanKits wider) {
      return widerThanKits(study, wider);
    }
    if (remark instanceof Remark.OneSided) {
      // docs/guarantees.md; fifty kits do not show it
      return "A limit on one side depends more on the shape of the spread than one on both sides:"
          + " in simulated studies with a light skew (0.5), which fifty units seldom show, the"
          + " model's limit on the long side held in 85 to 91 of 100 where 95 were asked.";
    }
    if (remark instanceof Remark.LotsWiden widen) {
      return text(
          "%s, which makes the figure %.3g times as wide%s. For these lots alone it would be %s.",
          claim.assumedLotRatio().isPresent()
              ? text(
                  "How lots differ is assumed, not measured (lots spread %s times as far as units"
                      + " of one lot)",
                  plain(claim.assumedLotRatio().getAsDouble()))
              : "Few lots say little about lot-to-lot spread",
          widen.ratio(),
          claim.assumedLotRatio().isPresent() ? "" : "; more lots would tighten it",
          claim.form().words(figure.withinTheseLotsGrams().orElseThrow()));
    }
    if (remark instanceof Remark.SideTestTooSmall small) {
      return text(
          "%s: %s with the loads of the side test; how %ss differ in it cannot be known from fewer"
              + " than two.",
          small.effect().title(), counted(small.runs(), "run"), subject);
    }
    return remark instanceof Remark.SideTestNotFitted not
        ? not.effect().title() + ": the runs cannot be fitted, so nothing is known."
        : SpreadWords.of(((Remark.LeftOut) remark).note());
  }

  private static String virtualKits(Study study, Remark.VirtualKits kits) {
    boolean dummy =
        study.design().reference().map(Design.ReferencePartners::dummyBridge).orElse(false);
    return text(
        "No kit was measured: cells and boards met reference partners only. The data's own bound is"
            + " number %s from the top of %s virtual kits, whose confidence is simulated, not"
            + " proven. What a cell and a board do to each other is %s; bench error counts twice,"
            + " which errs on the safe side.",
        kits.rank(),
        kits.kits(),
        dummy
            ? "not seen at all where boards met a dummy bridge"
            : "seen only against the reference partners");
  }

  private static String widerThanKits(Study study, Remark.WiderThanKits wider) {
    ClaimRequest claim = study.claim();
    String subject = claim.subject().key();
    String place = plain(wider.loadKilograms()) + " kg " + wider.direction().word();
    String beginning =
        text("Wider than for kits from the same runs, %s. ", claim.form().words(wider.kitsGrams()));
    return beginning
        + switch (wider.cause()) {
          case PARTNER ->
              text(
                  "On %s every reading holds the partner's own error, which no kit has: mean error"
                      + " at %s %s g there, %s g of kits.",
                  StudyWords.partner(study),
                  place,
                  digits(wider.own().meanGrams(), 3),
                  digits(wider.kits().meanGrams(), 3));
          case LARGEST_TESTED ->
              text(
                  "The largest error of a tested %s counts, while of kits, none of which was"
                      + " measured, one further from the top of all sums of a cell and a board"
                      + " does.",
                  subject);
          case UNCERTAINTY ->
              text(
                  "The runs say less surely how %ss spread than how kits do. Standard deviation at"
                      + " %s: %ss %s g, counted as %s g because mean and spread are not known"
                      + " better; kits %s g, counted as %s g (%s %% confidence).%s",
                  subject,
                  place,
                  subject,
                  digits(wider.own().standardDeviationGrams(), 3),
                  digits(wider.own().countedGrams(), 3),
                  digits(wider.kits().standardDeviationGrams(), 3),
                  digits(wider.kits().countedGrams(), 3),
                  percent(claim.confidence()),
                  kitsFigureHolds(study));
        };
  }

  /** What the kits' figure says of units with an average partner. */
  private static String kitsFigureHolds(Study study) {
    ClaimRequest claim = study.claim();
    return SubjectRuns.onPartner(study) || claim.content() <= 0.75
        ? ""
        : text(
            " The partner's error comes on top of a %s's own, so at each load the figure for kits"
                + " holds for %ss as well. But the smaller of two figures that were both looked at"
                + " has %s %% confidence only.",
            claim.subject().key(),
            claim.subject().key(),
            percent(1 - 2 * (1 - claim.confidence())));
  }

  private static String side(SideAllowance side) {
    return text(
        "%s: %s g are added for %s, from %s, of which %s share no unit%s",
        side.test().effect().title(),
        digits(side.grams(), 3),
        side.test().covers(),
        counted(side.runs(), "run"),
        side.kits(),
        side.withoutLots() ? "; too few lots were tested to say how lots differ in it." : ".");
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

  /** What to do and how much of it, or why it does not help. */
  public static String remedy(Remedy remedy, ClaimRequest claim) {
    boolean kits = claim.subject() == ClaimRequest.Subject.KIT;
    String plural = claim.subject().plural();
    if (remedy instanceof Remedy.OtherLevels other) {
      return text(
          "This study supports the wanted figure %s.",
          other.levels().stream()
              .map(
                  request ->
                      request.level().description()
                          + (request.temperatureCorrection().isPresent()
                              ? ", corrected for temperature"
                              : ""))
              .collect(Collectors.joining(", and ")));
    }
    if (remedy instanceof Remedy.FinerMasses masses) {
      return text(
          "The masses alone take %s g of the figure; finer classes for bench and buyer would give"
              + " most of it back, which %s be enough.",
          digits(masses.grams(), 3), masses.possible() ? "would" : "would not");
    }
    if (remedy instanceof Remedy.SampleDoesNotHelp not) {
      return text(
          "Measuring more units or lots will not help: as estimated, %s %% of %s already need %s"
              + " with guard bands.",
          percent(claim.content()),
          plural,
          claim.form().words(Double.parseDouble(digits(not.neededGrams(), 3))));
    }
    if (remedy instanceof Remedy.TestedKitsBeyond tested) {
      return text(
          "%s. Without a screen the data alone would need %s %s%s with no more than %s of them"
              + " beyond it.",
          exceed(tested.beyond(), claim),
          tested.neededKits(),
          plural,
          kits ? " that share no unit" : "",
          tested.beyond());
    }
    if (remedy instanceof Remedy.MoreUnits more) {
      return text(
          "About %s%s instead of %s would make the figure tight enough, if they spread as these"
              + " do.",
          more.neededUnits(), kits ? " cells and boards" : " " + plural, more.units());
    }
    if (remedy instanceof Remedy.MoreLots more) {
      return text(
          "About %s%s instead of %s lots would make the figure tight enough, if they spread as"
              + " these do.",
          more.neededLots(),
          kits
              ? " lots of cells and of boards with " + more.unitsPerLot() + " units of each"
              : " lots of " + plural + " with " + more.unitsPerLot() + " units each",
          more.lots());
    }
    return remedy instanceof Remedy.LotsDoNotHelp not
        ? text(
            "Not even %s lots would make the figure tight enough: it is barely above what %s need"
                + " as estimated.",
            not.lots(), plural)
        : ofSpread(remedy, claim);
  }

  private static String ofSpread(Remedy remedy, ClaimRequest claim) {
    if (remedy instanceof Remedy.LessSpread less) {
      return text(
          "Bring the standard deviation of %s%s at the worst load from %s g to %s g.",
          less.source().substring(0, 1).toLowerCase(Locale.ROOT),
          less.source().substring(1),
          digits(less.standardDeviationGrams(), 3),
          digits(less.share() * less.standardDeviationGrams(), 3));
    }
    if (remedy instanceof Remedy.Screen screen) {
      String unit = screen.role().key();
      return text(
          "Test every %s and ship only those whose own error at the worst load lies within %s g of"
              + " the mean of all %ss: about %s %% pass. The claim then rests on that test.",
          unit, digits(screen.limitGrams(), 3), unit, digits(100 * screen.yieldFraction(), 3));
    }
    if (remedy instanceof Remedy.LessOfAllSpreads less) {
      String largest =
          less.largest().isEmpty()
              ? ""
              : text(
                  "The largest contributor is: %s. Even without any of it the wanted figure would"
                      + " not be reached. ",
                  less.largest());
      return largest
          + (less.possible()
              ? text(
                  "All spreads together would have to come down to %s %% of what they are.",
                  digits(100 * less.share(), 3))
              : "Nor without any spread: the mean error, with its uncertainty, is too large.");
    }
    Remedy.SmallerContent content = (Remedy.SmallerContent) remedy;
    String plural = claim.subject().plural();
    return content.possible()
        ? text(
            "By the model the wanted figure holds for about %s %% of %s, at the same confidence, if"
                + " the spread is normal.%s",
            digits(100 * content.contentFraction(), 3),
            plural,
            content.beyond() == 0
                ? ""
                : text(
                    " Of %s tested %s, %s%s",
                    content.kits(),
                    plural,
                    content.beyond(),
                    content.beyond() == 1 ? " exceeds it." : " exceed it."))
        : "The wanted figure does not hold for half of the " + plural + ".";
  }

  private static String exceed(int kits, ClaimRequest claim) {
    return kits == 1
        ? "1 tested " + claim.subject().key() + " exceeds the wanted figure"
        : kits + " tested " + claim.subject().plural() + " exceed the wanted figure";
  }
}
