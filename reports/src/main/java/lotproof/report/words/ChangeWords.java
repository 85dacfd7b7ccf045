package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.claim.FigureChange;
import lotproof.claim.FigureChange.Part;
import lotproof.claim.FigureChange.Removed;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/** How decisions change figures, in sentences. */
public final class ChangeWords {
  private static final double STILL_GRAMS = 0.005;

  private ChangeWords() {}

  /** The change of one level. */
  public static String of(FigureChange change) {
    if (change.moveGrams().isEmpty()) {
      return change.before().figureGrams().isPresent()
          ? "With the decisions there is no figure."
          : change.after().figureGrams().isPresent()
              ? "Only with the decisions is there a figure."
              : "No figure with or without the decisions.";
    }
    double move = change.moveGrams().getAsDouble();
    List<String> sentences = new ArrayList<>();
    sentences.add(
        text(
            "Without the decisions %s, with them %s; the limit before rounding %s",
            change.form().words(change.before().figureGrams().orElseThrow()),
            change.form().words(change.after().figureGrams().orElseThrow()),
            Math.abs(move) < STILL_GRAMS
                ? "does not change."
                : "changes by " + signed(move) + " g."));
    if (Math.abs(move) >= STILL_GRAMS) {
      sentences.add("Mainly " + main(change.parts(), move) + ".");
    }
    if (!change.removed().isEmpty()) {
      sentences.add(
          removed(change.removed(), move > 0, change.before().limitGrams().orElseThrow()));
    }
    return String.join(" ", sentences);
  }

  private static String signed(double grams) {
    return (grams < 0 ? "" : "+") + digits(grams, 3);
  }

  /** The name of a part. */
  public static String title(Part part) {
    return switch (part.cause()) {
      case BOUND -> "Limit";
      case MEAN -> "Mean error";
      case SPREAD -> "Spread: " + part.source();
      case UNCERTAINTY -> "Estimation uncertainty of mean and spread";
      case ALL_LOADS -> "All loads together, and the largest tested kit";
      case ADDED -> "Guard bands: masses, loads between, correction";
    };
  }

  /** The parts that pull where the limit went, the largest two. */
  private static String main(List<Part> parts, double move) {
    return parts.stream()
        .filter(p -> Math.signum(p.moveGrams()) == Math.signum(move))
        .sorted(Comparator.comparingDouble(p -> -Math.abs(p.moveGrams())))
        .limit(2)
        .map(
            p ->
                title(p).substring(0, 1).toLowerCase(Locale.ROOT)
                    + title(p).substring(1)
                    + ", from "
                    + digits(p.before(), 3)
                    + " to "
                    + digits(p.after(), 3)
                    + " g ("
                    + signed(p.moveGrams())
                    + " g)")
        .collect(Collectors.joining("; and "));
  }

  private static String removed(List<Removed> removed, boolean wider, double boundBefore) {
    Removed largest = removed.get(0);
    return text(
        "%s (%s, cell %s with board %s) was off by %s g%s",
        removed.size() == 1
            ? "The run taken out"
            : "The largest of the " + removed.size() + " runs taken out",
        largest.run(),
        largest.cell(),
        largest.board(),
        digits(largest.largestGrams(), 3),
        wider && largest.largestGrams() < boundBefore
            ? ", well within the figure at this level: taking out units that are not extreme here"
                + " only leaves fewer to judge by."
            : ".");
  }

  /** A split claim and its price. */
  public static String of(Study study, SplitClaim split) {
    ClaimRequest claim = study.claim();
    List<String> sentences = new ArrayList<>();
    sentences.add(
        "A unit that could ship stays in the claim, because a buyer may receive one like it. Either"
            + " production tests every unit for what sets it apart (screened), or the claim is"
            + " split:");
    for (SplitClaim.BadShare share : split.shares()) {
      sentences.add(
          text(
              "%d of %d %ss bad means that up to %.1f %% of %ss may be.",
              share.bad(),
              share.units(),
              share.kind().key(),
              100 * share.upperFraction(),
              share.kind().key()));
    }
    // rounded down: a content is never overstated
    double percent = Math.floor(1000 * split.contentFraction()) / 10;
    for (SplitClaim.LevelFigure level : split.levels()) {
      level
          .goodGrams()
          .ifPresent(
              grams ->
                  sentences.add(
                      text(
                          "Good %s read %s%s %s; at least %.1f %% of all %s do, with %s %%"
                              + " confidence.",
                          claim.subject().plural(),
                          claim.form().twoSided() ? "within " : "",
                          claim.form().words(grams),
                          level.level().description(),
                          percent,
                          claim.subject().plural(),
                          percent(claim.confidence()))));
    }
    return String.join(" ", sentences);
  }
}
