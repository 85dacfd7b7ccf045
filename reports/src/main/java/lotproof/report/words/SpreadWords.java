package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.text;

import java.util.Optional;
import lotproof.model.FactorPlan;
import lotproof.spread.DataCheck;
import lotproof.spread.SpreadOutcome;

/** What a spread says of its model and of the data, in words. */
public final class SpreadWords {
  private SpreadWords() {}

  /** Why there is no estimate. */
  public static String of(SpreadOutcome.NotEstimable not) {
    String reason = not.reason().isEmpty() ? "No run shows this characteristic." : not.reason();
    return not.farReadings().isEmpty()
        ? reason
        : reason + " " + AssumptionWords.far(not.farReadings());
  }

  /** Why a factor is not in the model. */
  public static String of(FactorPlan.Note note) {
    String unit = note.role().key();
    return switch (note.kind()) {
      case ONE_UNIT -> "Only one " + unit + " was measured; how " + unit + "s differ is not known.";
      case ONE_PARTNER_EACH ->
          "Each cell met one board only, so cells and boards cannot be told apart; they are shown"
              + " together as kits.";
      case FEW_REPEATS ->
          text(
              "Pairing and bench are shown together: %s repeated runs are too few to separate them"
                  + " (%s are needed).",
              note.count(), FactorPlan.REPEATS_FOR_PAIRING);
      case ONE_LOT ->
          "All " + unit + "s come from one lot; how " + unit + " lots differ was not observed.";
      case LOT_OF_ONE ->
          "Each " + unit + " lot has one unit, so lots and units cannot be told apart.";
      case NO_REPEAT ->
          "No " + unit + " was measured twice, so its spread holds the bench error too.";
    };
  }

  /** Why an influence was not taken out. */
  public static String of(SpreadOutcome.UnusedInfluence unused) {
    return unused.notRecorded() == 0
        ? "The " + unused.name() + " was the same in all runs, so its influence was not estimated."
        : text(
            "The %s is not recorded for %s of %s runs, so its influence was not taken out.",
            unused.name(), unused.notRecorded(), unused.runs());
  }

  /** Why the interval of an influence is wider than the model alone would have it. */
  public static Optional<String> doubt(SpreadOutcome.InfluenceEffect effect) {
    String wider =
        text(
            "the interval of %s (%s) is wider: standard error %s times that of ",
            effect.influence(), effect.per(), digits(effect.widening(), 2));
    return switch (effect.doubt()) {
      case NONE -> Optional.empty();
      case MEMORY ->
          Optional.of(
              "Successive values are alike beyond what the model explains, so "
                  + wider
                  + "independent readings.");
      case UNITS ->
          Optional.of(
              "The effect differs from unit to unit, so "
                  + wider
                  + "one effect for all units. It is that of the average unit.");
    };
  }

  /** A case in which limits were measured to hold less often than they say. */
  public static String of(SpreadOutcome.Caveat caveat) {
    return switch (caveat) {
      case REFERENCE_UNITS ->
          "All cells met one board and all boards one cell, so the mean rests on these two units."
              + " In simulated studies of 50 cells and 50 boards, limits on both sides of the mean"
              + " held their content in 91 of 100 studies where 95 were asked; one-sided limits and"
              + " limits about zero kept theirs.";
      case COARSE ->
          "Values come in steps of more than a quarter of their standard deviation. Limits by the"
              + " model are widened by half a step and reach at least one step beyond the smallest"
              + " and the largest value. Whether the shape is normal cannot be judged from so few"
              + " steps.";
      case NOT_NORMAL ->
          "Limits by the model depend on a normal shape, which these values do not show. In"
              + " simulated studies of 50 units where 95 of 100 were asked, a light skew (0.5) left"
              + " one-sided limits with 85, and heavy tails (Student's t with 6 degrees of freedom)"
              + " left limits on both sides of the mean with 89. Compare them with the"
              + " distribution-free ones.";
    };
  }

  /** What the bench's share comes from. */
  public static String basis(SpreadOutcome.BenchShare share) {
    return share.betweenBlocks().isPresent()
        ? "kits crossed with the block"
        : "repeats of the same kit";
  }

  /** What a check looks for. */
  public static String title(DataCheck.Kind kind) {
    return switch (kind) {
      case GRUBBS -> "One outlier";
      case GENERALIZED_ESD -> "Several outliers";
      case MODIFIED_Z -> "Far from the median";
      case TWO_GROUPS -> "Two groups of units";
      case BARTLETT, BROWN_FORSYTHE -> "Unequal spread of lots";
      case COCHRAN -> "One kit repeats badly";
      case RUNS -> "Successive values are correlated";
      case DRIFT -> "Drift over the runs";
    };
  }

  /** What a check looked at. */
  public static String about(DataCheck check) {
    DataCheck.About about = check.about();
    String units = about.count() + " " + about.noun() + "s";
    return switch (check.kind()) {
      case GENERALIZED_ESD -> units + ", up to " + about.most();
      case COCHRAN -> units + " measured up to " + about.most() + " times";
      case RUNS, DRIFT -> units + " in their order";
      default -> units;
    };
  }

  /** What a check means at the bench, or why it was not made. */
  public static String meaning(DataCheck check) {
    String unit = check.about().noun();
    if (!check.done()) {
      return switch (check.kind()) {
        case MODIFIED_Z -> "More than half of the " + unit + "s are equal, so there is no scale.";
        case BROWN_FORSYTHE -> "Needs two lots with 3 units or more.";
        case COCHRAN -> "Needs 3 kits that were repeated.";
        default -> "Needs 6 " + unit + "s or more that differ.";
      };
    }
    boolean found = check.notable();
    return switch (check.kind()) {
      case GRUBBS ->
          found
              ? "This " + unit + " lies farther out than chance explains; look for a cause."
              : "The " + unit + " farthest out is no farther than chance explains.";
      case GENERALIZED_ESD ->
          found
              ? "These " + unit + "s lie farther out than chance explains; look for a cause."
              : "No " + unit + " lies farther out than chance explains.";
      case MODIFIED_Z ->
          found
              ? "These " + unit + "s are worth a look (a rule of thumb, not a test)."
              : "No " + unit + " lies far from the median.";
      case TWO_GROUPS ->
          found
              ? "The " + unit + "s are bimodal or flat-topped; look at lots, suppliers and dates."
              : "The " + unit + "s form one group.";
      case BARTLETT -> lots(found, ", if values are normal.");
      case BROWN_FORSYTHE -> lots(found, ".");
      case COCHRAN ->
          found
              ? "Repeats of this kit differ more than those of the others; look at its joint, cable"
                  + " and log."
              : "No kit's repeats differ more than chance explains.";
      case RUNS ->
          found
              ? "High and low values do not alternate as chance would have them: the order was not"
                  + " random, or the bench drifted."
              : "High and low values alternate as chance would have them.";
      case DRIFT ->
          found
              ? "Values drift steadily from run to run (change for one run shown), allowing for"
                  + " autocorrelation; look at the check standard."
              : "No steady drift from run to run is seen, allowing for autocorrelation.";
    };
  }

  private static String lots(boolean found, String condition) {
    return (found
            ? "Some lots spread more than others; one spread for all describes none of them"
            : "Lots spread alike, as far as these units show")
        + condition;
  }
}
