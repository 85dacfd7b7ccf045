package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Collectors;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often the checks on values point at something in normal studies in which nothing is wrong.
 */
@Tag("guarantee")
class ChecksGuaranteeTest {
  private static final long SEED = 20_261_201;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 2000) / 4;

  /**
   * @param lots lots of cells, and as many of boards
   * @param units in each lot
   * @param share the part of the variance of a kind that lies between its lots
   * @param passes how many boards each cell meets; 0 for units without a board, each measured once
   */
  @ParameterizedTest
  @CsvSource({
    "1, 20, 0, 0",
    "1, 50, 0, 0",
    "3, 10, 0.3, 0",
    "3, 10, 0.75, 0",
    "5, 10, 0.75, 0",
    "10, 5, 0.5, 0",
    "1, 20, 0, 2",
    "1, 50, 0, 2",
    "2, 25, 0.5, 2",
    "3, 16, 0.5, 2",
    "5, 10, 0.25, 2",
    "5, 10, 0.75, 2",
    "10, 5, 0.5, 2"
  })
  void normalStudies(int lots, int units, double share, int passes) {
    Random random = new Random(SEED + 1000L * lots + 10L * units + passes);
    Map<DataCheck.Kind, Integer> notable = new EnumMap<>(DataCheck.Kind.class);
    int any = 0;
    for (int s = 0; s < STUDIES; s++) {
      CharacteristicSpread spread = spread(random, lots, units, share, passes);
      List<DataCheck.Kind> kinds =
          spread.checks().stream()
              .filter(DataCheck::notable)
              .map(DataCheck::kind)
              .distinct()
              .toList();
      kinds.forEach(kind -> notable.merge(kind, 1, Integer::sum));
      any += kinds.isEmpty() ? 0 : 1;
    }
    String rates =
        notable.entrySet().stream()
            .map(e -> String.format(Locale.ROOT, "%s %.3f", e.getKey(), rate(e.getValue())))
            .collect(Collectors.joining(", "));
    System.out.printf(
        Locale.ROOT,
        "| %d x %d, share %s, passes %d | %.3f | %s | seed %d%n",
        lots,
        units,
        share,
        passes,
        rate(any),
        rates,
        SEED);
    // the distance from the median is a rule of thumb without a level
    notable.remove(DataCheck.Kind.MODIFIED_Z);
    double mostByKind = 2 * DataCheck.NOTABLE_LEVEL;
    assertThat(notable.values())
        .allMatch(count -> rate(count) < mostByKind + 3 * Math.sqrt(mostByKind / STUDIES));
  }

  private static double rate(int count) {
    return count / (double) STUDIES;
  }

  private static CharacteristicSpread spread(
      Random random, int lots, int units, double share, int passes) {
    int n = lots * units;
    double[] cells = effects(random, lots, units, share);
    double[] boards = effects(random, lots, units, share);
    List<Integer> order = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      order.add(i);
    }
    Collections.shuffle(order, random);
    List<Integer> runs = new ArrayList<>();
    for (int run = 0; run < n * Math.max(1, passes); run++) {
      runs.add(run);
    }
    Collections.shuffle(runs, random);
    List<Double> values = new ArrayList<>();
    List<String> cell = new ArrayList<>();
    List<String> board = new ArrayList<>();
    List<String> cellLot = new ArrayList<>();
    List<String> boardLot = new ArrayList<>();
    for (int run : runs) {
      int c = run % n;
      int b = order.get((c + run / n) % n);
      cell.add("C" + c);
      board.add("B" + b);
      cellLot.add("CL" + c / units);
      boardLot.add("BL" + b / units);
      values.add(cells[c] + (passes == 0 ? 0 : 0.5 * boards[b] + 0.2 * random.nextGaussian()));
    }
    Map<Role, List<String>> labels =
        passes == 0
            ? lots == 1 ? Map.of(Role.CELL, cell) : Map.of(Role.CELL, cell, Role.CELL_LOT, cellLot)
            : lots == 1
                ? Map.of(Role.CELL, cell, Role.BOARD, board)
                : Map.of(
                    Role.CELL,
                    cell,
                    Role.BOARD,
                    board,
                    Role.CELL_LOT,
                    cellLot,
                    Role.BOARD_LOT,
                    boardLot);
    return new Spread(new SpreadOptions(0.95, 0.95, Optional.empty(), true))
        .of(new MeasuredValues("x", "X", "g", values, labels));
  }

  private static double[] effects(Random random, int lots, int units, double share) {
    double[] effects = new double[lots * units];
    for (int lot = 0; lot < lots; lot++) {
      double common = Math.sqrt(share) * random.nextGaussian();
      for (int i = 0; i < units; i++) {
        effects[lot * units + i] = common + Math.sqrt(1 - share) * random.nextGaussian();
      }
    }
    return effects;
  }
}
