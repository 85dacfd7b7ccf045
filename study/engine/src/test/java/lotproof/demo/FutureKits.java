package lotproof.demo;

import java.util.Arrays;
import java.util.List;
import lotproof.demo.SimulatedBench.JoinedPair;
import lotproof.demo.SimulatedBench.Warmth;
import lotproof.plan.Draws;
import lotproof.study.CalibrationLevel;

/**
 * Future kits of the physical model: the true answer to what a study can only estimate.
 *
 * <p>Each kit goes through one load run on a bench with perfect masses. The tared rising zero and
 * the rising readings at the calibration masses are the buyer's calibration; the error of a kit is
 * the largest distance of any reading of that run, rising or falling, from the load.
 */
public final class FutureKits {
  private final SimulatedBench bench;
  private final Population<CellTrait> cells;
  private final Population<BoardTrait> boards;
  private final double[] loadsKilograms;
  private final double lowestCelsius;
  private final double highestCelsius;

  /**
   * @param bench bench that stands for the buyer's use
   * @param cells all cells
   * @param boards all boards
   * @param loadsKilograms loads of the run, from 0 rising and then falling
   * @param lowestCelsius lowest temperature of use
   * @param highestCelsius highest temperature of use
   */
  public FutureKits(
      SimulatedBench bench,
      Population<CellTrait> cells,
      Population<BoardTrait> boards,
      List<Double> loadsKilograms,
      double lowestCelsius,
      double highestCelsius) {
    this.bench = new SimulatedBench(bench.model().withPerfectMasses());
    this.cells = cells;
    this.boards = boards;
    this.loadsKilograms = loadsKilograms.stream().mapToDouble(Double::doubleValue).toArray();
    this.lowestCelsius = lowestCelsius;
    this.highestCelsius = highestCelsius;
  }

  /**
   * Largest error in grams of each of many future kits, every kit from a new lot of cells and a new
   * lot of boards.
   *
   * @param levels calibration levels
   * @param count number of kits
   * @param draws source of randomness
   * @return for each level the errors of all kits, ascending
   */
  public double[][] fromNewLots(List<CalibrationLevel> levels, int count, Draws draws) {
    double[][] errors = new double[levels.size()][count];
    for (int kit = 0; kit < count; kit++) {
      fill(errors, kit, levels, cells.drawLot(draws), boards.drawLot(draws), draws);
    }
    return sorted(errors);
  }

  /**
   * Largest error in grams of each of many future kits from given lots, each lot as likely as its
   * share.
   *
   * @param levels calibration levels
   * @param cellLots means of the cell lots, one entry for each unit that it had in the study
   * @param boardLots means of the board lots, likewise
   * @param count number of kits
   * @param draws source of randomness
   * @return for each level the errors of all kits, ascending
   */
  public double[][] fromLots(
      List<CalibrationLevel> levels,
      List<Traits<CellTrait>> cellLots,
      List<Traits<BoardTrait>> boardLots,
      int count,
      Draws draws) {
    double[][] errors = new double[levels.size()][count];
    for (int kit = 0; kit < count; kit++) {
      Traits<CellTrait> cellLot = cellLots.get(draws.index(cellLots.size()));
      Traits<BoardTrait> boardLot = boardLots.get(draws.index(boardLots.size()));
      fill(errors, kit, levels, cellLot, boardLot, draws);
    }
    return sorted(errors);
  }

  private void fill(
      double[][] errors,
      int kit,
      List<CalibrationLevel> levels,
      Traits<CellTrait> cellLot,
      Traits<BoardTrait> boardLot,
      Draws draws) {
    JoinedPair pair =
        bench.join(cells.drawUnit(cellLot, draws), boards.drawUnit(boardLot, draws), draws);
    double celsius = draws.uniform(lowestCelsius, highestCelsius);
    Warmth warmth = new Warmth(celsius, celsius, draws.gaussian() * 0.5);
    double[] counts = bench.run(pair, loadsKilograms, warmth, draws).outputCounts();
    for (int level = 0; level < errors.length; level++) {
      errors[level][kit] = largestErrorGrams(counts, levels.get(level));
    }
  }

  private double largestErrorGrams(double[] counts, CalibrationLevel level) {
    List<Double> points = level.pointsKilograms();
    double[] knotKilograms = new double[points.size() + 1];
    double[] knotCounts = new double[points.size() + 1];
    knotCounts[0] = counts[0];
    for (int i = 0; i < points.size(); i++) {
      knotKilograms[i + 1] = points.get(i);
      knotCounts[i + 1] = counts[risingStep(points.get(i))];
    }
    double largest = 0;
    for (int step = 0; step < counts.length; step++) {
      double reading = readingKilograms(counts[step], knotKilograms, knotCounts);
      largest = Math.max(largest, Math.abs(reading - loadsKilograms[step]) * 1000);
    }
    return largest;
  }

  private double readingKilograms(double counts, double[] knotKilograms, double[] knotCounts) {
    if (knotKilograms.length == 1) {
      return (counts - knotCounts[0]) / bench.model().nominalCountsPerKilogram();
    }
    int upper = 1;
    while (upper < knotCounts.length - 1 && counts > knotCounts[upper]) {
      upper++;
    }
    double slope =
        (knotKilograms[upper] - knotKilograms[upper - 1])
            / (knotCounts[upper] - knotCounts[upper - 1]);
    return knotKilograms[upper] + (counts - knotCounts[upper]) * slope;
  }

  private int risingStep(double kilograms) {
    for (int step = 0; step < loadsKilograms.length; step++) {
      if (loadsKilograms[step] == kilograms) {
        return step;
      }
    }
    throw new IllegalArgumentException(
        "calibration mass " + kilograms + " kg is none of the loads of the run");
  }

  private static double[][] sorted(double[][] errors) {
    for (double[] ofLevel : errors) {
      Arrays.sort(ofLevel);
    }
    return errors;
  }
}
