package lotproof.study;

import java.util.HashSet;
import java.util.List;

/**
 * Runs beside the load runs that show an effect which a load run does not: a load off the centre, a
 * load that stays on for long, the drift of days. Each step is compared with the first step of the
 * same run that has the same load.
 *
 * @param runPrefix how the names of these runs begin in the record
 * @param loadsKilograms loads of one such run in order, the first of them 0; at least one load
 *     comes twice
 * @param covers how far the effect was tried, in words that follow "for", such as {@code loads up
 *     to 100 mm off the centre}
 */
public record SideTest(
    Effect effect, String runPrefix, List<Double> loadsKilograms, String covers) {

  /** Effects that a load run does not show. */
  public enum Effect implements Keyed {
    OFF_CENTRE("Loads off the centre", true),
    CREEP("Creep", true),
    DRIFT("Drift", false);

    private final String title;
    private final boolean growsWithLoad;

    Effect(String title, boolean growsWithLoad) {
      this.title = title;
      this.growsWithLoad = growsWithLoad;
    }

    /** The name shown to people. */
    public String title() {
      return title;
    }

    /** Whether the effect is taken as proportional to the load; else as the same at every load. */
    public boolean growsWithLoad() {
      return growsWithLoad;
    }
  }

  public SideTest {
    Require.text(runPrefix, "run prefix");
    Require.text(covers, "what the side test covers");
    loadsKilograms = List.copyOf(loadsKilograms);
    if (loadsKilograms.isEmpty() || loadsKilograms.get(0) != 0) {
      throw new IllegalArgumentException("a side test begins without load: " + loadsKilograms);
    }
    if (new HashSet<>(loadsKilograms).size() == loadsKilograms.size()) {
      throw new IllegalArgumentException(
          "a side test has a load that comes again: " + loadsKilograms);
    }
  }

  /** Whether a run of the record is one of these. */
  public boolean holds(String run) {
    return run.startsWith(runPrefix);
  }
}
