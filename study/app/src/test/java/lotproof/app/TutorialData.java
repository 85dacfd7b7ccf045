package lotproof.app;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * The bench file of the tutorial, invented from one seed: twelve cells and twelve boards from two
 * lots each, every cell on two boards, and one cell that somebody dropped.
 */
final class TutorialData {
  private static final long SEED = 12;
  private static final int UNITS = 12;
  private static final int DROPPED = 9;
  private static final double[] LOADS = {0, 20, 50, 20, 0};
  private static final double COUNTS_PER_GRAM = 83.88608;

  private TutorialData() {}

  static List<String> cells() {
    return Stream.of("A", "B")
        .flatMap(lot -> IntStream.rangeClosed(1, UNITS / 2).mapToObj(i -> lot + "-0" + i))
        .toList();
  }

  /** Boards of both lots by turns, so that cells of each lot meet boards of each lot. */
  static List<String> boards() {
    return IntStream.range(0, UNITS)
        .mapToObj(i -> (i % 2 == 0 ? "X-0" : "Y-0") + (i / 2 + 1))
        .toList();
  }

  static String bench() {
    Random random = new Random(SEED);
    double[] cellLot = {0.0012 * random.nextGaussian(), 0.0012 * random.nextGaussian()};
    double[] boardLot = {0.0006 * random.nextGaussian(), 0.0006 * random.nextGaussian()};
    double[] slope = gaussians(random, 0.003);
    double[] bow = gaussians(random, 2.5);
    double[] width = gaussians(random, 1.5);
    double[] zero = gaussians(random, 400);
    double[] gain = gaussians(random, 0.0012);
    List<int[]> runs = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      // both lots by turns, so that neither has a day of its own
      int cell = i / 2 + i % 2 * (UNITS / 2);
      runs.add(new int[] {cell, cell});
      runs.add(new int[] {cell, (cell + 1) % UNITS});
      if (cell % 3 == 0) {
        runs.add(new int[] {cell, cell});
      }
    }
    StringBuilder csv =
        new StringBuilder(
            "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
                + "cell temperature [°C],board temperature [°C],remark\n");
    for (int run = 0; run < runs.size(); run++) {
      int cell = runs.get(run)[0];
      int board = runs.get(run)[1];
      for (int step = 0; step < LOADS.length; step++) {
        double part = LOADS[step] / 50;
        double kit = slope[cell] + cellLot[cell / (UNITS / 2)] + gain[board] + boardLot[board % 2];
        boolean falling = step > 2;
        double grams =
            LOADS[step] * 1000 * (1 + kit)
                + (bow[cell] - 9) * 4 * part * (1 - part)
                + (falling ? (width[cell] + 4) * 4 * part * (1 - part) + 0.8 : 0)
                + zero[cell]
                + (cell == DROPPED ? 900 - (falling ? 60 * (1 - part) : 0) : 0)
                + 0.4 * random.nextGaussian();
        csv.append(
            String.format(
                Locale.ROOT,
                "S1,2026-11-%02dT%02d:%02d:00,R%02d,%d,%s,%s,%.0f,%.1f,%.1f,%.1f,%.1f,%s%n",
                23 + run / 14,
                9 + run % 14 / 2,
                30 * (run % 2) + step,
                run + 1,
                step + 1,
                cells().get(cell),
                boards().get(board),
                LOADS[step],
                grams * COUNTS_PER_GRAM,
                24 + 3 * random.nextDouble(),
                21 + random.nextDouble(),
                22 + random.nextDouble(),
                cell == DROPPED && step == 0 ? "fell off the table" : ""));
      }
    }
    return csv.toString().replace("\r\n", "\n");
  }

  private static double[] gaussians(Random random, double scale) {
    double[] values = new double[UNITS];
    Arrays.setAll(values, i -> scale * random.nextGaussian());
    return values;
  }
}
