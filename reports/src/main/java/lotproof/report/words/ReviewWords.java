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
import lotproof.claim.TakenOut;
import lotproof.claim.premise.BenchFindings;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.review.CheckStandardResult;
import lotproof.review.Finding;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Study;

/** What stands out, how the bench stands and what decisions change, in words. */
public final class ReviewWords {
  private static final double STILL_GRAMS = 0.005;

  private ReviewWords() {}

  /** How the other runs show what is odd, or what run would show it. */
  public static String why(Finding finding) {
    Finding.Verdict verdict = finding.verdict();
    return verdict.left().isPresent()
        ? ofRun(finding, verdict, verdict.left().getAsDouble())
        : ofUnit(finding, verdict);
  }

  private static String ofUnit(Finding finding, Finding.Verdict verdict) {
    boolean cell = finding.target() == Decision.Target.CELL;
    String unit = finding.target().key();
    String others = cell ? "board" : "cell";
    String offBy = "off by " + shown(verdict, " with " + others + " ");
    if (verdict.shown().size() < 2) {
      return offBy
          + "; it met one "
          + others
          + " only, so the "
          + unit
          + " and the pair cannot be told apart: measure it with another "
          + others;
    }
    if (verdict.odd() != (cell ? Finding.Odd.CELL : Finding.Odd.BOARD)) {
      return offBy + ": not the same with each " + others;
    }
    return offBy
        + ": the same with each "
        + others
        + (verdict.othersAtMost().isPresent()
            ? String.format(
                Locale.ROOT,
                ", while other %ss on the same %ss are off by at most %.3g",
                unit,
                others,
                verdict.othersAtMost().getAsDouble())
            : "");
  }

  private static String ofRun(Finding finding, Finding.Verdict verdict, double left) {
    String over = "after cell and board " + size(left) + " is left over";
    Finding.Odd odd = verdict.odd();
    if (odd == Finding.Odd.OPEN) {
      return over
          + "; the pair was measured once, so the pair and the run cannot be told apart: measure it"
          + " again";
    }
    String shown = over + ", and " + shown(verdict, " in ") + " of the same ";
    if (odd == Finding.Odd.PAIR || odd == Finding.Odd.RUN) {
      return shown + "pair";
    }
    Finding.Evidence own = finding.evidence().get(0);
    String unit = odd == Finding.Odd.CELL ? "cell" : "board";
    return shown
        + unit
        + ": "
        + unit
        + " "
        + (odd == Finding.Odd.CELL ? own.cell() : own.board())
        + " differs between its runs; it changed, or a serial is wrong";
  }

  private static String shown(Finding.Verdict verdict, String between) {
    return verdict.shown().entrySet().stream()
        .map(e -> size(e.getValue()) + between + e.getKey())
        .collect(Collectors.joining(", "));
  }

  private static String size(double value) {
    return String.format(Locale.ROOT, "%+.3g", value);
  }

  /** What else the bench recorded. */
  public static String signs(Finding finding) {
    return finding.signs().stream()
        .map(
            sign ->
                sign.noiseRatio().isPresent()
                    ? String.format(
                        Locale.ROOT,
                        "%s: noise %.1f times the median of all runs",
                        sign.run(),
                        sign.noiseRatio().getAsDouble())
                    : sign.run() + ": remark \"" + sign.remark() + "\"")
        .collect(Collectors.joining("; "));
  }

  /** Whether the check standard was steady, by which limits, and what is off about it. */
  public static String of(CheckStandardResult.Behaviour behaviour) {
    if (behaviour instanceof CheckStandardResult.Judged judged) {
      return text(
          "Check standard: %s; last %.6f mV/V, limits %.6f to %.6f from its first %d of %d runs.%s",
          judged.steady() ? "steady" : "off",
          judged.last(),
          judged.lower(),
          judged.upper(),
          judged.baselineRuns(),
          judged.runs(),
          alarms(judged).stream().map(alarm -> " " + alarm + ".").collect(Collectors.joining()));
    }
    return "Check standard: not judged yet. " + whyNot((CheckStandardResult.NotYet) behaviour);
  }

  /** What is off about the check standard; nothing while the bench is steady. */
  private static List<String> alarms(CheckStandardResult.Judged judged) {
    List<String> alarms = new ArrayList<>();
    for (CheckStandardResult.Alarm alarm : judged.alarms()) {
      alarms.add(
          String.format(
              Locale.ROOT,
              "run %s: %.6f mV/V %s",
              alarm.run(),
              alarm.sensitivity(),
              switch (alarm.signal()) {
                case BEYOND_LIMITS -> "is outside the control limits";
                case JUMP -> "is too far from the run before";
                case LONG_RUN -> "ends a long row on one side of the centre";
              }));
    }
    if (judged.hasTrend()) {
      alarms.add(
          String.format(
              Locale.ROOT, "a trend over all runs (chance alone: %.2g)", judged.trendPValue()));
    }
    return alarms;
  }

  /** Why the check standard is not judged yet. */
  private static String whyNot(CheckStandardResult.NotYet not) {
    return not.runs() > CheckStandardResult.FEWEST_BASELINE_RUNS
        ? "The first runs of the check standard are all equal, which no bench shows."
        : not.runs()
            + " complete runs of the check standard; control limits need "
            + (CheckStandardResult.FEWEST_BASELINE_RUNS + 1)
            + ".";
  }

  /** Where the time that the bench is still needed comes from. */
  public static String basis(BenchFindings.TimeLeft left) {
    return left.planned()
        ? "planned minutes of mount, run and warm-up"
        : "median time between runs in the record";
  }

  /** The change of one level. */
  public static String change(FigureChange change) {
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

  /** How much of each kind was left out: {@code 1 of 50 cells (2 %), 2 of 49 boards (4.1 %)}. */
  public static String shares(List<TakenOut> takenOut) {
    return takenOut.stream()
        .map(
            out ->
                text(
                    "%d of %s (%s %%)",
                    out.count(),
                    Numbers.counted(out.measured(), out.kind().key()),
                    digits(100 * out.shareFraction(), 2)))
        .collect(Collectors.joining(", "));
  }

  /**
   * How many of those left out at a level are the farthest: {@code 5 of 5 cells (chance 1 in
   * 2100000)}.
   */
  public static String farthest(List<TakenOut> takenOut) {
    return takenOut.stream()
        .map(
            out ->
                text(
                    "%d of %s%s",
                    out.farthest(),
                    Numbers.counted(out.count(), out.kind().key()),
                    out.extremes() ? " (chance " + oneIn(out.chance()) + ")" : ""))
        .collect(Collectors.joining(", "));
  }

  /** A chance as one in so many. */
  public static String oneIn(double chance) {
    return "1 in " + digits(1 / chance, 2);
  }

  private static String signed(double grams) {
    return (grams < 0 ? "" : "+") + digits(grams, 3);
  }

  /** The name of a part. */
  public static String title(Part part) {
    return part.cause() == FigureChange.Cause.SPREAD
        ? "Spread: " + part.source()
        : title(part.cause());
  }

  /** The name of what changes a limit, or adds up to it. */
  public static String title(FigureChange.Cause cause) {
    return switch (cause) {
      case BOUND -> "Limit";
      case MEAN -> "Mean error";
      case SPREAD -> "Spread";
      case UNCERTAINTY -> "Estimation uncertainty of mean and spread";
      case ALL_LOADS -> "All loads together, and the largest tested kit";
      case ADDED -> "Guard bands: masses, loads between, correction";
      case ROUNDING -> "Rounding outward";
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
  public static String split(Study study, SplitClaim split) {
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
      if (level.isNarrower()) {
        sentences.add(
            text(
                "Good %s read %s%s %s; at least %.1f %% of all %s do, with %s %% confidence.",
                claim.subject().plural(),
                claim.form().twoSided() ? "within " : "",
                claim.form().words(level.goodGrams().orElseThrow()),
                level.level().description(),
                percent,
                claim.subject().plural(),
                percent(claim.confidence())));
      }
    }
    List<String> notNarrower =
        split.levels().stream()
            .filter(level -> !level.isNarrower())
            .map(level -> level.level().label())
            .toList();
    if (!notNarrower.isEmpty()) {
      sentences.add(
          text(
              "A split brings nothing for %s: the figure for good %s is not below the one for all,"
                  + " since two statements share the confidence.",
              String.join(", ", notNarrower), claim.subject().plural()));
    }
    return String.join(" ", sentences);
  }
}
