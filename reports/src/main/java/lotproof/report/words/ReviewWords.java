package lotproof.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.claim.premise.BenchFindings;
import lotproof.review.CheckStandardResult;
import lotproof.review.Finding;
import lotproof.study.Decision;

/** What stands out and how the bench stands, in words. */
public final class ReviewWords {
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

  /** What is off about the check standard; nothing while the bench is steady. */
  public static List<String> alarms(CheckStandardResult.Judged judged) {
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
  public static String of(CheckStandardResult.NotYet not) {
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
}
