package lotproof.plan.design;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.study.BenchPlan;
import lotproof.study.SideTest;
import lotproof.study.Study;

/**
 * What has to be right before and during the bench work. Common practice, no source, but for the
 * mass class (OIML R 111-1:2004).
 */
public final class Preparation {
  private Preparation() {}

  /**
   * A check-list.
   *
   * @param title what it is for
   * @param lines one thing each
   */
  public record Part(String title, List<String> lines) {
    public Part {
      lines = List.copyOf(lines);
    }
  }

  /** The check-lists beside the sheet of a session. */
  public static List<Part> ofSession(Study study, BenchPlan plan) {
    return List.of(
        new Part("Before the first reading", before(study, plan)),
        new Part("Cautions", cautions(largest(study), true)),
        new Part("Filling in the sheet", filling(study)),
        new Part("What may be left out", causes(study)));
  }

  /** The check-lists beside the sheet of a side test. */
  public static List<Part> ofSideTest(Study study, SideTest test) {
    return List.of(
        new Part("Before the first reading", beforeSideTest(study, test)),
        new Part("Cautions", sideCautions(test)),
        new Part("Filling in the sheet", fillingSideTest(study, test)),
        new Part("What may be left out", causes(study)));
  }

  private static List<String> beforeSideTest(Study study, SideTest test) {
    List<String> lines = new ArrayList<>();
    lines.add(text("What is looked for: %s, for %s.", test.effect().key(), test.covers()));
    lines.add("Supply and board are on as long before the first reading as for a load run.");
    lines.addAll(room(study));
    switch (test.effect()) {
      case OFF_CENTRE -> {
        lines.add(
            "Mark the places of the load on the platform before the first kit, one for each step"
                + " that has a load again. A step has the same place on every kit.");
        lines.add("The first step with a load is in the middle; all others are held against it.");
      }
      case CREEP -> {
        lines.add(
            "The load goes on once and stays. The first step with it is read as soon as in a load"
                + " run, the others at times that are the same for every kit; have a clock in"
                + " sight.");
        lines.add(
            "A last step without load shows the return of the zero: read it as long after unloading"
                + " as the first step after loading.");
      }
      case DRIFT ->
          lines.add(
              "The kit stays mounted and on between the steps; the times between them are the same"
                  + " for every kit. Nobody touches platform or cable meanwhile.");
      default -> throw new IllegalStateException(test.effect().key());
    }
    lines.add(
        text(
            "Stop at %s kg: the cell's capacity is %s kg, and a load above it can damage the cell"
                + " for good without a sign.",
            number(largest(test)), number(study.kit().capacityKilograms())));
    return lines;
  }

  private static List<String> sideCautions(SideTest test) {
    List<String> lines = new ArrayList<>();
    switch (test.effect()) {
      case OFF_CENTRE ->
          lines.add(
              "A load beside the middle can tip the platform and bends the cell more than its"
                  + " weight says: fix the platform, begin near the middle, never go beyond the"
                  + " marked places.");
      case CREEP, DRIFT ->
          lines.add(
              "A load that stays on must not be able to fall: secure it, keep people away from it,"
                  + " and never leave it unwatched over an edge.");
      default -> throw new IllegalStateException(test.effect().key());
    }
    boolean inMiddle = test.effect() != SideTest.Effect.OFF_CENTRE;
    lines.addAll(cautions(largest(test), inMiddle));
    return lines;
  }

  private static List<String> fillingSideTest(Study study, SideTest test) {
    List<String> lines = new ArrayList<>(filling());
    lines.add(
        text(
            "Every run name begins with \"%s\"; that is how a side test is known. A run on a new"
                + " row begins so too.",
            test.runPrefix()));
    String name = "bench/side-" + test.effect().key();
    lines.add(text("When all kits are done: lotproof import STUDY %s.xlsx", name));
    if (study.units().checkStandard().isPresent()) {
      lines.add(
          text(
              "The check standard is measured first, in the middle and last, with the loads of a"
                  + " load run, on %s-check.xlsx. If it is off, stop and find out why.",
              name));
    } else {
      lines.add("There is no check standard; nothing tells a drifting bench from the effect.");
    }
    return lines;
  }

  /** Check-list before the first reading of a session. */
  private static List<String> before(Study study, BenchPlan plan) {
    List<String> lines = new ArrayList<>();
    lines.add(
        text(
            "Supply and board are on for %s minutes before the first reading.",
            number(plan.times().minutesPerWarmUp())));
    lines.addAll(room(study));
    lines.add(
        "Platform level, screws at their torque, cable not touching the platform, load in the"
            + " middle.");
    lines.add(
        "The same settling time after every change of load; the zero is read after the same time"
            + " too.");
    lines.add(
        text(
            "Stop at %s kg: the cell's capacity is %s kg, and a load above it can damage the cell"
                + " for good without a sign.",
            number(largest(study)), number(study.kit().capacityKilograms())));
    return lines;
  }

  /** Temperature, masses and exercise, the same for every kind of run. */
  private static List<String> room(Study study) {
    return List.of(
        "Cells, boards and masses have stood in the room long enough to have its temperature.",
        text(
            "Masses are of class %s (OIML R 111) or better, calibrated, clean, and enough for every"
                + " load of the sheet.",
            study.conditions().benchMassClass().key()),
        text(
            "The room is between %s and %s °C and stays there; cell and board temperature are"
                + " logged with every run.",
            number(study.conditions().lowestCelsius()),
            number(study.conditions().highestCelsius())),
        text(
            "After mounting, each cell is exercised: load up to %s kg and off again, three times,"
                + " before the readings.",
            number(largest(study))));
  }

  /** Cautions for people. */
  private static List<String> cautions(double largest, boolean inMiddle) {
    return List.of(
        text(
            "Loads up to %s kg: lift with two people or a hoist, keep hands and feet out from under"
                + " the platform, wear safety shoes.",
            number(largest)),
        text(
            "Load and unload slowly%s; masses that slide or drop overload the cell.",
            inMiddle ? " and in the middle" : ""),
        "Never stand on the platform and never use the set-up for lifting.");
  }

  /** How the sheet of a session is filled in. */
  private static List<String> filling(Study study) {
    List<String> lines = new ArrayList<>(filling());
    lines.add("When the session is done: lotproof import STUDY bench/SESSION.xlsx");
    if (study.units().checkStandard().isPresent()) {
      lines.add(
          "The check standard is measured first, in the middle and last. If it is off, stop and"
              + " find out why before more units are measured.");
    }
    return lines;
  }

  /** How any sheet is filled in. */
  private static List<String> filling() {
    return List.of(
        "Work from top to bottom. The order was drawn at random; do not sort or regroup it.",
        "Readings are raw converter counts, mean of the samples after settling, not tared.",
        "A run that went wrong stays on the sheet: write what happened into the remark and measure"
            + " the pair once more on a new row with a run name of its own.",
        "If a unit other than the one on the row was measured, write its serial over the planned"
            + " one.",
        "Leave empty what was not read. Never write an expected value.");
  }

  /** The rule for leaving something out, with the causes that were agreed. */
  private static List<String> causes(Study study) {
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
    ofSession(study, plan).forEach(part -> section(out, part));
    for (SideTest test : study.design().sideTests()) {
      out.append("\n\nSide test: ").append(test.effect().title()).append("\n");
      ofSideTest(study, test).forEach(part -> section(out, part));
    }
    return out.toString();
  }

  private static void section(StringBuilder out, Part part) {
    out.append("\n").append(part.title()).append("\n");
    part.lines().forEach(line -> out.append("  [ ] ").append(line.strip()).append("\n"));
  }

  private static double largest(Study study) {
    return study.design().loadsKilograms().stream().mapToDouble(load -> load).max().orElse(0);
  }

  private static double largest(SideTest test) {
    return test.loadsKilograms().stream().mapToDouble(load -> load).max().orElse(0);
  }

  private static String number(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
