package lotproof.plan.design;

import static java.util.stream.Collectors.joining;
import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.List;
import lotproof.study.BenchPlan;
import lotproof.study.SideTest;
import lotproof.study.Study;

/**
 * What has to be right before and during the bench work. Common practice, no source, but for the
 * mass class (OIML R 111-1:2004).
 */
public final class Preparation {
  /** Kilograms that one person lifts without help: common practice, no source. */
  private static final double ONE_PERSON = 15;

  /** How any sheet is filled in. */
  private static final String FILLING =
      """
      Work from top to bottom. The order was drawn at random; do not sort or regroup it.
      Readings are raw converter counts, mean of the samples after settling, not tared.
      A run that went wrong stays on the sheet: write what happened into the remark and measure \
      the pair once more on a new row with a run name of its own.
      If a unit other than the one on the row was measured, write its serial over the planned one.
      Leave empty what was not read. Never write an expected value.
      """;

  private Preparation() {}

  /** A check-list. */
  public record Part(String title, List<String> lines) {
    public Part {
      lines = List.copyOf(lines);
    }
  }

  /** The check-lists beside the sheet of a session. */
  public static List<Part> ofSession(Study study, BenchPlan plan) {
    double largest = largest(study.design().loadsKilograms());
    String before =
        """
        Supply and board are on for %s minutes before the first reading.
        """
                .formatted(plain(plan.times().minutesPerWarmUp()))
            + room(study)
            + """
            Platform level, screws at their torque, cable not touching the platform, load in the \
            middle.
            The same settling time after every change of load; the zero is read after the same \
            time too.
            """
            + stop(study, largest);
    String filling =
        FILLING
            + "When the session is done: lotproof import STUDY bench/SESSION.xlsx\n"
            + (study.units().checkStandard().isEmpty()
                ? ""
                : """
                The check standard is measured first, in the middle and last. If it is off, stop \
                and find out why before more units are measured.
                """);
    return parts(study, before, cautions(largest, true), filling);
  }

  /** The check-lists beside the sheet of a side test. */
  public static List<Part> ofSideTest(Study study, SideTest test) {
    double largest = largest(test.loadsKilograms());
    boolean offCentre = test.effect() == SideTest.Effect.OFF_CENTRE;
    String before =
        """
        What is looked for: %s, for %s.
        Supply and board are on as long before the first reading as for a load run.
        """
                .formatted(test.effect().key(), test.covers())
            + room(study)
            + switch (test.effect()) {
              case OFF_CENTRE ->
                  """
                  Mark the places of the load on the platform before the first kit, one for each \
                  step that has a load again. A step has the same place on every kit.
                  The first step with a load is in the middle; all others are held against it.
                  """;
              case CREEP ->
                  """
                  The load goes on once and stays. The first step with it is read as soon as in a \
                  load run, the others at times that are the same for every kit; have a clock in \
                  sight.
                  A last step without load shows the return of the zero: read it as long after \
                  unloading as the first step after loading.
                  """;
              case DRIFT ->
                  """
                  The kit stays mounted and on between the steps; the times between them are the \
                  same for every kit. Nobody touches platform or cable meanwhile.
                  """;
            }
            + stop(study, largest);
    String cautions =
        offCentre
            ? """
            A load beside the middle can tip the platform and bends the cell more than its weight \
            says: fix the platform, begin near the middle, never go beyond the marked places.
            """
            : """
            A load that stays on must not be able to fall: secure it, keep people away from it, \
            and never leave it unwatched over an edge.
            """;
    String name = "bench/side-" + test.effect().key();
    String filling =
        FILLING
            + """
            Every run name begins with "%s"; that is how a side test is known. A run on a new row \
            begins so too.
            When all kits are done: lotproof import STUDY %s.xlsx
            """
                .formatted(test.runPrefix(), name)
            + (study.units().checkStandard().isEmpty()
                ? "There is no check standard; nothing tells a drifting bench from the effect.\n"
                : """
                The check standard is measured first, in the middle and last, with the loads of a \
                load run, on %s-check.xlsx. If it is off, stop and find out why.
                """
                    .formatted(name));
    return parts(study, before, cautions + cautions(largest, !offCentre), filling);
  }

  private static List<Part> parts(Study study, String before, String cautions, String filling) {
    String causes =
        """
        Agreed before the first reading: a unit or run may be left out of the figure for these \
        causes alone, with evidence, decided by a person, and is listed in the report:
        """
            + study.causes().stream().map(cause -> "  " + cause + "\n").collect(joining())
            + "An extreme value without such a cause stays in: a buyer may receive that unit.\n";
    return List.of(
        new Part("Before the first reading", before.lines().toList()),
        new Part("Cautions", cautions.lines().toList()),
        new Part("Filling in the sheet", filling.lines().toList()),
        new Part("What may be left out", causes.lines().toList()));
  }

  private static String stop(Study study, double largest) {
    return """
    Stop at %s kg: the cell's capacity is %s kg, and a load above it can damage the cell for good \
    without a sign.
    """
        .formatted(plain(largest), plain(study.kit().capacityKilograms()));
  }

  /** Temperature, masses and exercise, the same for every kind of run. */
  private static String room(Study study) {
    return """
    Cells, boards and masses have stood in the room long enough to have its temperature.
    Masses are of class %s (OIML R 111) or better, calibrated, clean, and enough for every load of \
    the sheet.
    The room is between %s and %s °C and stays there; cell and board temperature are logged with \
    every run.
    After mounting, each cell is exercised: load up to %s kg and off again, three times, before \
    the readings.
    """
        .formatted(
            study.conditions().benchMassClass().key(),
            plain(study.conditions().lowestCelsius()),
            plain(study.conditions().highestCelsius()),
            plain(largest(study.design().loadsKilograms())));
  }

  /** Cautions for people. */
  private static String cautions(double largest, boolean inMiddle) {
    String lift = largest > ONE_PERSON ? "lift with two people or a hoist, keep" : "keep";
    return """
    Loads up to %s kg: %s hands and feet out from under the platform, wear safety shoes.
    Load and unload slowly%s; masses that slide or drop overload the cell.
    Never stand on the platform and never use the set-up for lifting.
    """
        .formatted(plain(largest), lift, inMiddle ? " and in the middle" : "");
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

  private static double largest(List<Double> loads) {
    return loads.stream().mapToDouble(load -> load).max().orElse(0);
  }
}
