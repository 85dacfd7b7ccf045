package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often a figure with an allowance for off-centre loads holds the asked content of future kits,
 * each at its worst place of the load, where a few kits were tested for it. Also where the effect
 * follows the error of the load run as closely as it can.
 */
@Tag("guarantee")
class SideTestsGuaranteeTest {
  private static final long SEED = 20261126;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 500);
  private static final int FUTURE = 20_000;
  private static final int UNITS = 50;
  private static final int PLACES = 4;
  private static final double FACTOR = 80_000;
  private static final double GAIN_MEAN = 0.001;
  private static final double GAIN_SD = 0.003;
  private static final SideTest CORNERS =
      new SideTest(
          SideTest.Effect.OFF_CENTRE,
          "OC-",
          List.of(0.0, 20.0, 20.0, 20.0, 20.0, 20.0),
          "loads at the corners");
  private static final List<CalibrationLevel> LEVELS =
      List.of(
          new CalibrationLevel.None(),
          new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1));

  /** Effects at the places, in grams at 20 kg. */
  private static double[] effects(
      InventedKits.Unit cell, double sd, boolean follows, SplittableRandom random) {
    double[] grams = new double[PLACES];
    for (int j = 0; j < PLACES; j++) {
      double own = gaussian(random);
      double followed = (j % 2 == 0 ? 1 : -1) * (cell.gain() - GAIN_MEAN) / GAIN_SD;
      grams[j] = sd * (follows ? followed : own);
    }
    return grams;
  }

  private static double gaussian(SplittableRandom random) {
    double u = 1 - random.nextDouble();
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
  }

  @ParameterizedTest(name = "{0} kits, effect sd {1} g at 20 kg, follows the error: {2}")
  @CsvSource({"10, 3, false", "10, 20, false", "10, 20, true", "6, 3, false"})
  void wrongFiguresAreRare(int tested, double sd, boolean follows) throws IOException {
    double[] truth = truth(sd, follows);
    int[] held = new int[LEVELS.size()];
    int[] judged = new int[LEVELS.size()];
    for (int s = 0; s < STUDIES; s++) {
      List<LevelClaim> claims = claims(SEED + s, tested, sd, follows);
      for (int l = 0; l < held.length; l++) {
        Optional<LevelOutcome.Figure> found = claims.get(l).figure();
        if (found.isEmpty()) {
          continue;
        }
        LevelOutcome.Figure figure = found.get();
        judged[l]++;
        double bound =
            Math.max(figure.modelGrams(), figure.tested().largestGrams())
                + figure.guards().sides().get(0).grams();
        held[l] += bound >= truth[l] ? 1 : 0;
      }
    }
    double allowed = 0.95 - 3 * Math.sqrt(0.95 * 0.05 / STUDIES);
    for (int l = 0; l < held.length; l++) {
      SimulatedFigures.assertRefusedAtItsRate(STUDIES - judged[l], STUDIES);
      double confidence = held[l] / (double) judged[l];
      Path file = Path.of("target", "guarantees-side-tests.md");
      Files.createDirectories(file.getParent());
      Files.writeString(
          file,
          String.format(
              Locale.ROOT,
              "| %d | %.0f | %s | %s | %d | %.3f |%n",
              tested,
              sd,
              follows ? "yes" : "no",
              LEVELS.get(l).key(),
              judged[l],
              confidence),
          StandardOpenOption.CREATE,
          StandardOpenOption.APPEND);
      assertThat(confidence).as(LEVELS.get(l).key()).isGreaterThanOrEqualTo(allowed);
    }
  }

  private static double[] truth(double sd, boolean follows) {
    InventedKits population = new InventedKits(SEED - 1, 1, 0);
    SplittableRandom random = new SplittableRandom(SEED - 2);
    List<InventedKits.Unit> cells = population.units(UnitKind.CELL, FUTURE);
    List<InventedKits.Unit> boards = population.units(UnitKind.BOARD, FUTURE);
    ErrorOfReading errors = new ErrorOfReading(InventedKits.kit());
    double[][] largest = new double[LEVELS.size()][FUTURE];
    for (int i = 0; i < FUTURE; i++) {
      ReducedRun run = population.run("f" + i, cells.get(i), boards.get(i));
      double[] effects = effects(cells.get(i), sd, follows, random);
      for (int l = 0; l < LEVELS.size(); l++) {
        for (ErrorCurve.Point point : errors.curve(run, LEVELS.get(l)).orElseThrow().points()) {
          for (double effect : effects) {
            double error = point.errorGrams() + effect * point.loadKilograms() / 20;
            largest[l][i] =
                Math.max(largest[l][i], Math.max(Math.abs(error), Math.abs(point.errorGrams())));
          }
        }
      }
    }
    double[] quantiles = new double[LEVELS.size()];
    for (int l = 0; l < quantiles.length; l++) {
      Arrays.sort(largest[l]);
      quantiles[l] = largest[l][(int) Math.ceil(0.95 * FUTURE) - 1];
    }
    return quantiles;
  }

  private static List<LevelClaim> claims(long seed, int tested, double sd, boolean follows) {
    InventedKits kits = new InventedKits(seed, 1, 0);
    SplittableRandom random = new SplittableRandom(seed + 1_000_000);
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, UNITS);
    List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, UNITS);
    List<ReducedRun> runs = new ArrayList<>();
    List<Reading> corners = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
      runs.add(kits.run("s" + i, cells.get(i), boards.get((i + 1) % UNITS)));
      if (i < tested) {
        corners.addAll(
            corners(
                "OC-" + i,
                cells.get(i),
                boards.get(i),
                effects(cells.get(i), sd, follows, random)));
      }
    }
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            LEVELS.stream()
                .map(l -> new ClaimRequest.LevelRequest(l, OptionalDouble.empty()))
                .toList());
    Study study =
        InventedKits.study(
            kits.lotsOf(UnitKind.CELL, cells),
            kits.lotsOf(UnitKind.BOARD, boards),
            new Design(
                Design.Kind.ROTATION,
                InventedKits.LOADS,
                List.of(),
                Optional.empty(),
                List.of(CORNERS),
                Design.Pairing.NOT_STATED),
            request,
            MassClass.F2);
    SideAllowances sides = SideAllowances.of(study, LoadRun.groupedFrom(corners, study));
    return new LevelClaims(study, runs, sides, Premises.ofRuns(runs.size())).all(false);
  }

  private static List<Reading> corners(
      String name, InventedKits.Unit cell, InventedKits.Unit board, double[] effects) {
    List<Reading> readings = new ArrayList<>();
    double slope = FACTOR * (1 + cell.gain()) * (1 + board.gain());
    for (int j = 0; j < CORNERS.loadsKilograms().size(); j++) {
      double load = CORNERS.loadsKilograms().get(j);
      double grams = j < 2 ? 0 : effects[j - 2];
      readings.add(
          new Reading(
              "S9",
              Optional.empty(),
              name,
              j + 1,
              cell.serial(),
              board.serial(),
              load,
              slope * (load + grams / 1000),
              Reading.Beside.NOTHING,
              new Provenance("invented.csv", "00", j + 1),
              j + 1));
    }
    return readings;
  }
}
