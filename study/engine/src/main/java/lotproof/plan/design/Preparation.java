package lotproof.plan.design;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.study.BenchPlan;
import lotproof.study.Study;

/**
 * What has to be right before and during the bench work. Common practice, no source, but for the
 * mass class (OIML R 111-1:2004).
 */
public final class Preparation {
  private Preparation() {}

  /** Check-list before the first reading of a session. */
  public static List<String> before(Study study, BenchPlan plan) {
    double capacity = study.kit().capacityKilograms();
    return List.of(
        text(
            "Supply and board are on for %s minutes before the first reading.",
            number(plan.times().minutesPerWarmUp())),
        "Cells, boards and masses have stood in the room long enough to have its temperature.",
        text(
            "Masses are of class %s (OIML R 111) or better, calibrated, clean, and enough for every"
                + " load of the sheet.",
            study.conditions().benchMassClass().word()),
        text(
            "The room is between %s and %s °C and stays there; cell and board temperature are"
                + " logged with every run.",
            number(study.conditions().lowestCelsius()),
            number(study.conditions().highestCelsius())),
        text(
            "After mounting, each cell is exercised: load up to %s kg and off again, three times,"
                + " before the readings.",
            number(largest(study))),
        "Platform level, screws at their torque, cable not touching the platform, load in the"
            + " middle.",
        "The same settling time after every change of load; the zero is read after the same time"
            + " too.",
        text(
            "Stop at %s kg: the cell's capacity is %s kg, and a load above it can damage the cell"
                + " for good without a sign.",
            number(largest(study)), number(capacity)));
  }

  /** Cautions for people. */
  public static List<String> cautions(Study study) {
    return List.of(
        text(
            "Loads up to %s kg: lift with two people or a hoist, keep hands and feet out from under"
                + " the platform, wear safety shoes.",
            number(largest(study))),
        "Load and unload slowly and in the middle; masses that slide or drop overload the cell.",
        "Never stand on the platform and never use the set-up for lifting.");
  }

  /** How the sheet is filled in. */
  public static List<String> filling(Study study) {
    List<String> lines = new ArrayList<>();
    lines.add("Work from top to bottom. The order was drawn at random; do not sort or regroup it.");
    lines.add("Readings are raw converter counts, mean of the samples after settling, not tared.");
    lines.add(
        "A run that went wrong stays on the sheet: write what happened into the remark and measure"
            + " the pair once more on a new row with a run name of its own.");
    lines.add(
        "If a unit other than the one on the row was measured, write its serial over the planned"
            + " one.");
    lines.add("Leave empty what was not read. Never write an expected value.");
    lines.add("When the session is done: lotproof import STUDY bench/SESSION.xlsx");
    if (study.checkStandard().isPresent()) {
      lines.add(
          "The check standard is measured first, in the middle and last. If it is off, stop and"
              + " find out why before more units are measured.");
    }
    return lines;
  }

  /** The rule for leaving something out, with the causes that were agreed. */
  public static List<String> causes(Study study) {
    List<String> lines = new ArrayList<>();
    lines.add(
        "Agreed before the first reading: a unit or run may be left out of the figure for these"
            + " causes alone, with evidence, decided by a person, and is listed in the report:");
    study.causes().forEach(cause -> lines.add("  " + cause));
    lines.add("An extreme value without such a cause stays in: a buyer may receive that unit.");
    return lines;
  }

  /** All of it as plain text, to be read before the first session. */
  public static String text(Study study, BenchPlan plan) {
    StringBuilder out = new StringBuilder();
    out.append(study.title()).append("\n").append(plan.design()).append("\n");
    section(out, "Before the first reading", before(study, plan));
    section(out, "Cautions", cautions(study));
    section(out, "Filling in the sheets", filling(study));
    section(out, "What may be left out", causes(study));
    return out.toString();
  }

  private static void section(StringBuilder out, String title, List<String> lines) {
    out.append("\n").append(title).append("\n");
    lines.forEach(line -> out.append("  [ ] ").append(line.strip()).append("\n"));
  }

  private static double largest(Study study) {
    return study.design().loadsKilograms().stream().mapToDouble(load -> load).max().orElse(0);
  }

  private static String number(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
