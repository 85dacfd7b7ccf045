package lotproof.report.words;

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
      return "This study supports the wanted figure "
          + other.levels().stream()
              .map(
                  request ->
                      request.level().description()
                          + (request.temperatureCorrection().isPresent()
                              ? ", corrected for temperature"
                              : ""))
              .collect(Collectors.joining(", and "))
          + ".";
    }
    if (remedy instanceof Remedy.FinerMasses masses) {
      return "The masses alone take "
          + Numbers.digits(masses.grams(), 3)
          + " g of the figure; finer classes for bench and buyer would give most of it back, which "
          + (masses.possible() ? "would" : "would not")
          + " be enough.";
    }
    if (remedy instanceof Remedy.SampleDoesNotHelp not) {
      return "Measuring more units or lots will not help: as estimated, "
          + Numbers.percent(claim.content())
          + " % of "
          + plural
          + " already need "
          + claim.form().words(Double.parseDouble(Numbers.digits(not.neededGrams(), 3)))
          + " with guard bands.";
    }
    if (remedy instanceof Remedy.TestedKitsBeyond tested) {
      return exceed(tested.beyond(), claim)
          + ". Without a screen the data alone would need "
          + tested.neededKits()
          + " "
          + plural
          + (kits ? " that share no unit" : "")
          + " with no more than "
          + tested.beyond()
          + " of them beyond it.";
    }
    if (remedy instanceof Remedy.MoreUnits more) {
      return "About "
          + more.neededUnits()
          + (kits ? " cells and boards" : " " + plural)
          + " instead of "
          + more.units()
          + " would make the figure tight enough, if they spread as these do.";
    }
    if (remedy instanceof Remedy.MoreLots more) {
      return "About "
          + more.neededLots()
          + (kits
              ? " lots of cells and of boards with " + more.unitsPerLot() + " units of each"
              : " lots of " + plural + " with " + more.unitsPerLot() + " units each")
          + " instead of "
          + more.lots()
          + " lots would make the figure tight enough, if they spread as these do.";
    }
    return remedy instanceof Remedy.LotsDoNotHelp not
        ? "Not even "
            + not.lots()
            + " lots would make the figure tight enough: it is barely above what "
            + plural
            + " need as estimated."
        : ofSpread(remedy, claim);
  }

  private static String ofSpread(Remedy remedy, ClaimRequest claim) {
    if (remedy instanceof Remedy.LessSpread less) {
      return "Bring the standard deviation of "
          + less.source().substring(0, 1).toLowerCase(Locale.ROOT)
          + less.source().substring(1)
          + " at the worst load from "
          + Numbers.digits(less.standardDeviationGrams(), 3)
          + " g to "
          + Numbers.digits(less.share() * less.standardDeviationGrams(), 3)
          + " g.";
    }
    if (remedy instanceof Remedy.Screen screen) {
      String unit = screen.role().key();
      return "Test every "
          + unit
          + " and ship only those whose own error at the worst load lies within "
          + Numbers.digits(screen.limitGrams(), 3)
          + " g of the mean of all "
          + unit
          + "s: about "
          + Numbers.digits(100 * screen.yieldFraction(), 3)
          + " % pass. The claim then rests on that test.";
    }
    if (remedy instanceof Remedy.LessOfAllSpreads less) {
      String largest =
          less.largest().isEmpty()
              ? ""
              : "The largest contributor is: "
                  + less.largest()
                  + ". Even without any of it the wanted figure would not be reached. ";
      return largest
          + (less.possible()
              ? "All spreads together would have to come down to "
                  + Numbers.digits(100 * less.share(), 3)
                  + " % of what they are."
              : "Nor without any spread: the mean error, with its uncertainty, is too large.");
    }
    Remedy.SmallerContent content = (Remedy.SmallerContent) remedy;
    String plural = claim.subject().plural();
    return content.possible()
        ? "By the model the wanted figure holds for about "
            + Numbers.digits(100 * content.contentFraction(), 3)
            + " % of "
            + plural
            + ", at the same confidence, if the spread is normal."
            + (content.beyond() == 0
                ? ""
                : " Of "
                    + content.kits()
                    + " tested "
                    + plural
                    + ", "
                    + content.beyond()
                    + (content.beyond() == 1 ? " exceeds it." : " exceed it."))
        : "The wanted figure does not hold for half of the " + plural + ".";
  }

  private static String exceed(int kits, ClaimRequest claim) {
    return kits == 1
        ? "1 tested " + claim.subject().key() + " exceeds the wanted figure"
        : kits + " tested " + claim.subject().plural() + " exceed the wanted figure";
  }
}
