package lotproof.demo;

import java.util.Locale;
import lotproof.plan.Draws;

/**
 * The long capture of the invented study: the check standard at rest, sampled five times a second
 * for nearly seven minutes. White noise of the converter, as in the readings, and a bench that
 * wanders off and comes back within minutes, so that averaging helps for some tens of seconds and
 * no longer. It enters no reading.
 */
public final class DemoSeries {
  /** Its name, as the bench wrote it. */
  public static final String NAME = "check-standard-at-rest.csv";

  /** Cell and board that stood there. */
  public static final String CELL = DemoBench.CHECK_CELL;

  public static final String BOARD = DemoBench.CHECK_BOARD;

  /** The load, in kilograms. */
  public static final double LOAD_KILOGRAMS = 20;

  private static final int SAMPLES = 2048;
  private static final int MILLISECONDS_PER_SAMPLE = 200;
  private static final double LEVEL_COUNTS = 1_687_300;
  private static final double WHITE_COUNTS = 28;
  private static final double WANDER_COUNTS = 7;
  private static final double WANDER_SECONDS = 60;

  /** Number of the stream of draws; those below it make the study. */
  private static final int STREAM = 5;

  private DemoSeries() {}

  /** Its text: milliseconds and counts. */
  public static String text(long seed) {
    Draws draws = DemoStudy.streams(seed, STREAM + 1).get(STREAM);
    StringBuilder text = new StringBuilder("time [ms],output [counts]\n");
    double kept = StrictMath.exp(-MILLISECONDS_PER_SAMPLE / 1000.0 / WANDER_SECONDS);
    double pushed = WANDER_COUNTS * Math.sqrt(1 - kept * kept);
    double wander = 0;
    for (int i = 0; i < SAMPLES; i++) {
      wander = kept * wander + pushed * draws.gaussian();
      long code = Math.round(LEVEL_COUNTS + wander + WHITE_COUNTS * draws.gaussian());
      text.append(String.format(Locale.ROOT, "%d,%d\n", (long) i * MILLISECONDS_PER_SAMPLE, code));
    }
    return text.toString();
  }
}
