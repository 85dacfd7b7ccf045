package lotproof.report.page;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import lotproof.study.Design;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/**
 * A rotation of invented units on the demo's kit: gains of cells and boards that differ by 0.1 and
 * 0.05 %, a curvature of 0.01 % of each cell, and noise of two grams.
 */
record InventedStudy(Study study, List<Reading> readings) {
  private static final long SEED = 20261201;
  private static final int PASSES = 2;

  /** So many cells and boards in so many lots each. */
  static InventedStudy of(Study demo, int units, int lots) {
    Random random = new Random(SEED);
    double[] cells = random.doubles(units, -0.001, 0.001).toArray();
    double[] bends = random.doubles(units, -0.0001, 0.0001).toArray();
    double[] boards = random.doubles(units, -0.0005, 0.0005).toArray();
    double capacity = demo.kit().capacityKilograms();
    double factor = demo.kit().defaultFactorCountsPerKilogram();
    List<Design.PlannedPair> pairs = new ArrayList<>();
    List<Reading> readings = new ArrayList<>();
    LocalDateTime time = LocalDateTime.of(2026, 3, 2, 8, 0);
    for (int pass = 0; pass < PASSES; pass++) {
      for (int i = 0; i < units; i++) {
        int board = (i + pass) % units;
        pairs.add(new Design.PlannedPair(name("C", i), name("B", board), 1));
        double zero = 1000 * random.nextGaussian();
        for (int step = 0; step < demo.design().loadsKilograms().size(); step++) {
          double load = demo.design().loadsKilograms().get(step);
          double part = load / capacity;
          double seen =
              load * (1 + cells[i] + boards[board])
                  + bends[i] * 4 * part * (1 - part) * capacity
                  + 0.002 * random.nextGaussian();
          time = time.plusSeconds(75);
          readings.add(
              new Reading(
                  "S" + (1 + readings.size() / 200),
                  Optional.of(time),
                  "R" + pass + "-" + i,
                  step + 1,
                  name("C", i),
                  name("B", board),
                  load,
                  zero + factor * seen,
                  Reading.Beside.NOTHING,
                  new Provenance("bench.csv", "0".repeat(64), readings.size() + 2),
                  readings.size() + 2));
        }
      }
    }
    Units invented =
        new Units(
            lots(UnitKind.CELL, "C", units, lots),
            lots(UnitKind.BOARD, "B", units, lots),
            Optional.empty());
    Design design = demo.design().withPairs(pairs);
    return new InventedStudy(demo.withUnits(invented).withDesign(design), readings);
  }

  private static List<Units.Lot> lots(UnitKind kind, String letter, int units, int lots) {
    return IntStream.range(0, lots)
        .mapToObj(
            lot ->
                new Units.Lot(
                    kind,
                    letter + "-" + (lot + 1),
                    IntStream.range(0, units)
                        .filter(i -> i % lots == lot)
                        .mapToObj(i -> name(letter, i))
                        .toList()))
        .toList();
  }

  private static String name(String letter, int unit) {
    return String.format(Locale.ROOT, "%s%03d", letter, unit + 1);
  }
}
