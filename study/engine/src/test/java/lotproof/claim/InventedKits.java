package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.study.BenchInfluences;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;

/**
 * Invented populations of cells and boards, far simpler than the demo's bench: relative gain, bow
 * and hysteresis for each unit, with a share of the gain's and bow's variance between lots, and a
 * change with temperature for runs that have one.
 */
final class InventedKits {
  static final List<Double> LOADS = List.of(0.0, 10.0, 20.0, 35.0, 50.0, 35.0, 20.0, 10.0, 0.0);
  private static final double CAPACITY = 50;
  private static final double FACTOR = 80_000;

  /** Mean change of the indication with temperature, relative for each kelvin. */
  static final double MEAN_PER_KELVIN = 20e-6;

  /** How units, or lots, of a kind are spread. */
  enum Shape {
    NORMAL,
    /** Every unit's own effects come from Student's t with 5 degrees of freedom. */
    HEAVY_TAILS,
    /** With 4 degrees of freedom. */
    HEAVIER_TAILS,
    /** A tenth of the units comes from a supplier whose units are 4 standard deviations off. */
    MINORITY,
    /** The halves lie 6 standard deviations of a half apart. */
    TWO_HEAPS,
    /** A fifth of the lots comes from a supplier whose lots are 4 standard deviations off. */
    MINORITY_LOTS
  }

  final double lotShare;
  final int lots;
  private final Shape shape;
  private final SplittableRandom random;
  private final SplittableRandom warmth;

  InventedKits(long seed, int lots, double lotShare) {
    this(seed, lots, lotShare, Shape.NORMAL);
  }

  InventedKits(long seed, int lots, double lotShare, Shape shape) {
    this.random = new SplittableRandom(seed);
    // of its own, so that units are the same whether temperatures matter or not
    this.warmth = new SplittableRandom(~seed);
    this.lots = lots;
    this.lotShare = lotShare;
    this.shape = shape;
  }

  /**
   * A unit: relative gain error, bow and hysteresis in grams at half load, its own part of the
   * change of the indication for each kelvin.
   */
  record Unit(
      String serial, double gain, double bowGrams, double hysteresisGrams, double perKelvin) {
    Unit(String serial, double gain, double bowGrams, double hysteresisGrams) {
      this(serial, gain, bowGrams, hysteresisGrams, 0);
    }
  }

  double gaussian() {
    return gaussian(random);
  }

  private static double gaussian(SplittableRandom random) {
    // Box and Muller, so that the generator with its seed is all that decides
    double u = 1 - random.nextDouble();
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
  }

  /** A unit's own effect. */
  private double effect() {
    double normal = gaussian();
    return switch (shape) {
      case NORMAL, MINORITY_LOTS -> normal;
      case HEAVY_TAILS -> student(normal, 5);
      case HEAVIER_TAILS -> student(normal, 4);
      case MINORITY -> normal + (random.nextDouble() < 0.1 ? 4 : 0);
      case TWO_HEAPS -> normal / 3 + (random.nextDouble() < 0.5 ? 1 : -1);
    };
  }

  /** Student's t with standard deviation 1. */
  private double student(double normal, int freedom) {
    double squares = 0;
    for (int k = 0; k < freedom; k++) {
      double one = gaussian();
      squares += one * one;
    }
    return normal / Math.sqrt(squares / freedom) * Math.sqrt(1 - 2.0 / freedom);
  }

  private double ofLot() {
    double normal = gaussian();
    return shape == Shape.MINORITY_LOTS && random.nextDouble() < 0.2 ? normal + 4 : normal;
  }

  private static final double[] CELL_SDS = {0.003, 2.0, 1.0};
  private static final double[] BOARD_SDS = {0.0012, 0.4, 0};
  private static final double CELL_SD_PER_KELVIN = 10e-6;
  private static final double BOARD_SD_PER_KELVIN = 5e-6;

  /** Units of one kind, dealt to lots in turn; each is (lot effect + own effect). */
  List<Unit> units(UnitKind kind, int count) {
    double[] sds = kind == UnitKind.CELL ? CELL_SDS : BOARD_SDS;
    double[] means = kind == UnitKind.CELL ? new double[] {0.001, 4, 3} : new double[] {0, 0, 0};
    double[][] lotEffects = new double[lots][3];
    for (double[] effect : lotEffects) {
      for (int t = 0; t < 3; t++) {
        effect[t] = Math.sqrt(lotShare) * sds[t] * ofLot();
      }
    }
    List<Unit> units = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double[] lot = lotEffects[i % lots];
      double[] value = new double[3];
      for (int t = 0; t < 3; t++) {
        value[t] = means[t] + lot[t] + Math.sqrt(1 - lotShare) * sds[t] * effect();
      }
      String serial = (kind == UnitKind.CELL ? "c" : "b") + i;
      double perKelvin =
          gaussian(warmth) * (kind == UnitKind.CELL ? CELL_SD_PER_KELVIN : BOARD_SD_PER_KELVIN);
      units.add(new Unit(serial, value[0], value[1], value[2], perKelvin));
    }
    return units;
  }

  /** Lots of the units that {@link #units} made. */
  List<Lot> lotsOf(UnitKind kind, List<Unit> units) {
    List<Lot> all = new ArrayList<>();
    for (int l = 0; l < lots; l++) {
      List<String> serials = new ArrayList<>();
      for (int i = l; i < units.size(); i += lots) {
        serials.add(units.get(i).serial());
      }
      all.add(new Lot(kind, "L" + l, serials));
    }
    return all;
  }

  /** Net output of a kit along the loads, in counts, with pairing and bench noise. */
  double[] outputs(Unit cell, Unit board) {
    double pairing = 0.00005 * gaussian();
    double gain = (1 + cell.gain()) * (1 + board.gain() + pairing);
    double[] counts = new double[LOADS.size()];
    int peak = LOADS.indexOf(CAPACITY);
    for (int i = 0; i < counts.length; i++) {
      double x = LOADS.get(i) / CAPACITY;
      double grams = 4 * x * (1 - x) * (cell.bowGrams() + board.bowGrams());
      grams += i > peak ? 4 * x * (1 - x) * cell.hysteresisGrams() : 0;
      double noise = 0.3 * gaussian();
      counts[i] = FACTOR * (gain * (LOADS.get(i) + grams / 1000) + noise / 1000);
    }
    return counts;
  }

  ReducedRun run(String name, Unit cell, Unit board, OptionalDouble celsius, double perKelvin) {
    double[] counts = outputs(cell, board);
    double warm = celsius.isPresent() ? 1 + perKelvin * (celsius.getAsDouble() - 22) : 1;
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < counts.length; i++) {
      readings.add(
          new Reading(
              "S1",
              Optional.empty(),
              name,
              i + 1,
              cell.serial(),
              board.serial(),
              LOADS.get(i),
              counts[i] * warm,
              new Reading.Beside(OptionalDouble.empty(), celsius, OptionalDouble.empty(), ""),
              new Provenance("invented.csv", "00", i + 1),
              i + 1));
    }
    Reading first = readings.get(0);
    LoadRun run = new LoadRun(first.run(), first.cell(), first.board(), readings);
    return new LoadRunReduction(kit(), Study.ReferenceLine.TERMINAL)
        .reduce(List.of(run))
        .runs()
        .get(0);
  }

  /** A run at a temperature of a kit that changes with it as its units do. */
  ReducedRun runAt(String name, Unit cell, Unit board, double celsius) {
    return run(
        name,
        cell,
        board,
        OptionalDouble.of(celsius),
        MEAN_PER_KELVIN + cell.perKelvin() + board.perKelvin());
  }

  ReducedRun run(String name, Unit cell, Unit board) {
    return run(name, cell, board, OptionalDouble.empty(), 0);
  }

  static Kit kit() {
    return new Kit("cell", "board", CAPACITY, FACTOR, 2_000_000, OptionalInt.empty());
  }

  static Study study(
      List<Lot> cells, List<Lot> boards, Design design, ClaimRequest claim, MassClass benchClass) {
    return new Study(
        "Invented",
        "What can be claimed?",
        7,
        kit(),
        new Units(cells, boards, Optional.empty()),
        design,
        Study.ReferenceLine.TERMINAL,
        java.util.Map.of(),
        List.of("bench damage"),
        claim,
        new Conditions(20, 25, benchClass, List.of()),
        BenchInfluences.NONE);
  }

  /** Claims of a study from runs, without the details. */
  static List<LevelClaim> claims(Study study, List<ReducedRun> runs, boolean details) {
    return new LevelClaims(study, runs).all(details);
  }
}
