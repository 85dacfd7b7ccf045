package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.text;

import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.claim.Remedy;
import lotproof.study.ClaimRequest;

/** What would make a wanted figure supportable, in sentences. */
public final class RemedyWords {
  private RemedyWords() {}

  /** What to do and how much of it, or why it does not help. */
  public static String of(Remedy remedy, ClaimRequest claim) {
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
