package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.premise.NormalShape;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.UnitKind;

/**
 * Whole simulated studies of {@link InventedKits} in a scenario, and what is true of the kits that
 * come after.
 *
 * @param design name of the design; {@code PAIRS} are disjoint
 * @param units cells, and as many boards
 * @param lots lots of each kind
 * @param share of lots in the variance of gain and bow
 * @param form of the claim
 * @param subject of the claim
 * @param content of the claim
 * @param levels which calibration levels
 * @param heavyTails whether units have heavy tails
 */
record SimulatedFigures(
    String design,
    int units,
    int lots,
    double share,
    ClaimForm form,
    ClaimRequest.Subject subject,
    double content,
    Levels levels,
    boolean heavyTails) {
  static final long SEED = 20261125;
  private static final double REFERENCE_CELSIUS = 22;
  private static final double COLD_CELSIUS = 19;
  private static final double WARM_CELSIUS = 25;
  private static final InventedKits.Unit REFERENCE_CELL = new InventedKits.Unit("rc", 0.0002, 1, 0);
  private static final InventedKits.Unit REFERENCE_BOARD =
      new InventedKits.Unit("rb", 0.0005, 0, 0);
  private static final InventedKits.Unit MEAN_CELL = new InventedKits.Unit("mc", 0.001, 4, 3);
  private static final InventedKits.Unit MEAN_BOARD = new InventedKits.Unit("mb", 0, 0, 0);

  /**
   * Where a study's assumptions hold, the check of the normal shape stops one figure in a hundred.
   */
  static void assertRefusedAtItsRate(int refused, int studies) {
    double rate = NormalShape.LEVEL;
    double error = Math.sqrt(rate * (1 - rate) / studies);
    assertThat(refused / (double) studies)
        .as("studies that a check of the assumptions stops")
        .isLessThanOrEqualTo(rate + 3 * error);
  }

  /** Calibration levels that are looked at together. */
  enum Levels {
    FEW_POINTS,
    MORE_POINTS,
    CORRECTED;

    /** Whether the firmware corrects for temperature. */
    boolean corrected() {
      return this == CORRECTED;
    }

    /** The levels. */
    List<CalibrationLevel> all() {
      return switch (this) {
        case FEW_POINTS -> List.of(new CalibrationLevel.None(), calibrated(20.0));
        case MORE_POINTS -> List.of(calibrated(20.0, 50.0), calibrated(10.0, 35.0, 50.0));
        case CORRECTED ->
            List.of(new CalibrationLevel.None(), calibrated(20.0), calibrated(10.0, 35.0, 50.0));
      };
    }

    private static CalibrationLevel calibrated(Double... masses) {
      return new CalibrationLevel.Calibrated(List.of(masses), MassClass.M1);
    }

    String name(CalibrationLevel level) {
      return level.key() + (corrected() ? ", corrected" : "");
    }
  }

  private InventedKits.Shape shape() {
    return heavyTails ? InventedKits.Shape.HEAVY_TAILS : InventedKits.Shape.NORMAL;
  }

  /**
   * Quantiles of the largest error of future kits, one for each level.
   *
   * @param content of the quantile
   */
  double[] truth(int future, double content) {
    List<CalibrationLevel> all = levels.all();
    double[][] largest = new double[all.size()][future];
    // as many lots as kits: every kit from lots of its own
    InventedKits population = new InventedKits(SEED - 1, future, share, shape());
    List<InventedKits.Unit> cells = population.units(UnitKind.CELL, future);
    List<InventedKits.Unit> boards = population.units(UnitKind.BOARD, future);
    boolean jig = design.equals("REFERENCE");
    for (int i = 0; i < future; i++) {
      InventedKits.Unit cell =
          subject == ClaimRequest.Subject.BOARD ? (jig ? REFERENCE_CELL : MEAN_CELL) : cells.get(i);
      InventedKits.Unit board =
          subject == ClaimRequest.Subject.CELL
              ? (jig ? REFERENCE_BOARD : MEAN_BOARD)
              : boards.get(i);
      double celsius = i % 2 == 0 ? COLD_CELSIUS : WARM_CELSIUS;
      ReducedRun run = run(population, "f" + i, cell, board, celsius);
      ReducedRun other =
          run(population, "g" + i, cell, board, COLD_CELSIUS + WARM_CELSIUS - celsius);
      for (int l = 0; l < largest.length; l++) {
        largest[l][i] =
            ErrorsInClaimForm.of(List.of(curve(run, other, all.get(l))), form).largest().get(0);
      }
    }
    double[] quantiles = new double[largest.length];
    for (int l = 0; l < largest.length; l++) {
      Arrays.sort(largest[l]);
      quantiles[l] = largest[l][(int) Math.ceil(content * future) - 1];
    }
    return quantiles;
  }

  /**
   * The error of a future kit; with a correction at one end of the range, calibrated at the other.
   */
  private ErrorCurve curve(ReducedRun run, ReducedRun other, CalibrationLevel level) {
    if (!levels.corrected()) {
      return new ErrorOfReading(InventedKits.kit()).curve(run, level).orElseThrow();
    }
    // the coefficient that the firmware has is estimated; its error is in the guard band
    ErrorOfReading errors =
        new ErrorOfReading(InventedKits.kit(), InventedKits.MEAN_PER_KELVIN, REFERENCE_CELSIUS);
    return errors.curve(run.run(), other.run(), level).orElseThrow();
  }

  private ReducedRun run(
      InventedKits kits,
      String name,
      InventedKits.Unit cell,
      InventedKits.Unit board,
      double celsius) {
    return levels.corrected()
        ? kits.runAt(name, cell, board, celsius)
        : kits.run(name, cell, board);
  }

  /** The claims of one simulated study, without the details. */
  List<LevelClaim> claims(int study) {
    InventedKits kits = new InventedKits(SEED + study, lots, share, shape());
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
    List<InventedKits.Unit> boards = new ArrayList<>(kits.units(UnitKind.BOARD, units));
    var cellLots = kits.lotsOf(UnitKind.CELL, cells);
    var boardLots = kits.lotsOf(UnitKind.BOARD, boards);
    // boards in another order than cells, so that lots mix
    Collections.shuffle(boards, new Random(SEED));
    Design laidOut =
        design.equals("REFERENCE")
            ? new Design(
                Design.Kind.REFERENCE_PARTNER,
                InventedKits.LOADS,
                List.of(),
                Optional.of(new Design.ReferencePartners("rc", "rb", false)),
                List.of(),
                Design.Pairing.NOT_STATED)
            : new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of());
    Optional<ClaimRequest.TemperatureCorrection> correction =
        levels.corrected()
            ? Optional.of(new ClaimRequest.TemperatureCorrection(0))
            : Optional.empty();
    ClaimRequest request =
        new ClaimRequest(
            content,
            0.95,
            1,
            form,
            subject,
            OptionalDouble.empty(),
            levels.all().stream()
                .map(l -> new LevelRequest(l, OptionalDouble.empty(), correction))
                .toList());
    return InventedKits.claims(
        InventedKits.study(cellLots, boardLots, laidOut, request, MassClass.F2),
        runs(kits, cells, boards),
        false);
  }

  private List<ReducedRun> runs(
      InventedKits kits, List<InventedKits.Unit> cells, List<InventedKits.Unit> boards) {
    List<ReducedRun> runs = new ArrayList<>();
    int n = cells.size();
    for (int i = 0; i < n; i++) {
      double first = i % 2 == 0 ? COLD_CELSIUS : WARM_CELSIUS;
      double second = COLD_CELSIUS + WARM_CELSIUS - first;
      runs.add(run(kits, "r" + i, left(cells, i), right(boards, i), first));
      if (levels.corrected()) {
        runs.add(run(kits, "t" + i, left(cells, i), right(boards, i), second));
      }
      switch (design) {
        case "PAIRS" -> {}
        case "ROTATION" ->
            runs.add(run(kits, "s" + i, cells.get(i), boards.get((i + 1) % n), second));
        case "BLOCKS" -> runs.add(run(kits, "s" + i, cells.get(i), boards.get(i ^ 1), second));
        case "CROSSING" -> {
          for (int j = 1; j < n; j++) {
            runs.add(run(kits, "s" + i + "-" + j, cells.get(i), boards.get((i + j) % n), second));
          }
        }
        default -> {
          if (subject == ClaimRequest.Subject.KIT) {
            runs.add(run(kits, "b" + i, REFERENCE_CELL, boards.get(i), second));
          }
        }
      }
    }
    for (int i = 0; i < 6 && design.equals("REFERENCE"); i++) {
      runs.add(run(kits, "x" + i, REFERENCE_CELL, REFERENCE_BOARD, WARM_CELSIUS));
    }
    return runs;
  }

  private InventedKits.Unit left(List<InventedKits.Unit> cells, int i) {
    return design.equals("REFERENCE") && subject == ClaimRequest.Subject.BOARD
        ? REFERENCE_CELL
        : cells.get(i);
  }

  private InventedKits.Unit right(List<InventedKits.Unit> boards, int i) {
    return design.equals("REFERENCE") && subject != ClaimRequest.Subject.BOARD
        ? REFERENCE_BOARD
        : boards.get(i);
  }
}
