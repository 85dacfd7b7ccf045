package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often the bound behind a figure, guard bands left out, holds the asked content of future kits
 * from new lots, over whole simulated studies. A wrong figure may come up in 5 % of studies and the
 * error of the simulation.
 */
@Tag("guarantee")
class FigureGuaranteeTest {
  private static final long SEED = 20261125;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 1000);
  private static final int FUTURE = 40_000;
  private static final List<CalibrationLevel> LEVELS =
      List.of(
          new CalibrationLevel.None(),
          new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1));

  @ParameterizedTest(name = "{0}, {1} units, {2} lots, share {3}, {4}")
  @CsvSource({
    "PAIRS, 59, 1, 0, symmetric",
    "ROTATION, 50, 1, 0, symmetric",
    "ROTATION, 50, 1, 0, of-reading",
    "ROTATION, 50, 1, 0, not-above",
    "ROTATION, 50, 5, 0.3, symmetric",
    "ROTATION, 50, 2, 0.3, symmetric",
    "BLOCKS, 50, 1, 0, symmetric",
    "CROSSING, 8, 1, 0, symmetric",
    "REFERENCE, 50, 1, 0, symmetric",
    "REFERENCE, 50, 5, 0.3, symmetric"
  })
  void wrongFiguresAreRare(String design, int units, int lots, double share, String formKey) {
    ClaimForm form =
        switch (formKey) {
          case "of-reading" -> new ClaimForm.OfReading(0.004, 10);
          case "not-above" -> new ClaimForm.OneSided(ClaimForm.Side.ABOVE);
          default -> new ClaimForm.Symmetric();
        };
    double[] truth = truth(share, form);
    int[] held = new int[LEVELS.size()];
    for (int s = 0; s < STUDIES; s++) {
      List<LevelClaim> claims =
          claims(design, units, new InventedKits(SEED + s, lots, share), form);
      for (int l = 0; l < held.length; l++) {
        LevelOutcome.Figure figure = claims.get(l).figure().orElseThrow();
        double bound = Math.max(figure.modelGrams(), figure.distributionFreeGrams());
        held[l] += bound >= truth[l] ? 1 : 0;
      }
    }
    double allowed = 0.95 - 3 * Math.sqrt(0.95 * 0.05 / STUDIES);
    for (int l = 0; l < held.length; l++) {
      double confidence = held[l] / (double) STUDIES;
      report(design, units, lots, share, formKey, LEVELS.get(l).key(), confidence);
      assertThat(confidence).as(LEVELS.get(l).key()).isGreaterThanOrEqualTo(allowed);
    }
  }

  private static void report(
      String design, int units, int lots, double share, String form, String level, double held) {
    String line =
        String.format(
            Locale.ROOT,
            "| %s | %d | %d | %.1f | %s | %s | %d | %.3f |%n",
            design.toLowerCase(Locale.ROOT),
            units,
            lots,
            share,
            form,
            level,
            STUDIES,
            held);
    try {
      java.nio.file.Path file = java.nio.file.Path.of("target", "guarantees-claim.md");
      java.nio.file.Files.createDirectories(file.getParent());
      java.nio.file.Files.writeString(
          file,
          line,
          java.nio.file.StandardOpenOption.CREATE,
          java.nio.file.StandardOpenOption.APPEND);
    } catch (java.io.IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private static double[] truth(double share, ClaimForm form) {
    double[][] largest = new double[LEVELS.size()][FUTURE];
    ErrorOfReading errors = new ErrorOfReading(InventedKits.kit());
    // as many lots as kits: every kit from lots of its own
    InventedKits population = new InventedKits(SEED - 1, FUTURE, share);
    List<InventedKits.Unit> cells = population.units(UnitKind.CELL, FUTURE);
    List<InventedKits.Unit> boards = population.units(UnitKind.BOARD, FUTURE);
    for (int i = 0; i < FUTURE; i++) {
      ReducedRun run = population.run("f" + i, cells.get(i), boards.get(i));
      for (int l = 0; l < largest.length; l++) {
        largest[l][i] =
            JudgedCurves.of(List.of(errors.curve(run, LEVELS.get(l)).orElseThrow()), form)
                .largest()
                .get(0);
      }
    }
    double[] quantiles = new double[largest.length];
    for (int l = 0; l < largest.length; l++) {
      Arrays.sort(largest[l]);
      quantiles[l] = largest[l][(int) Math.ceil(0.95 * FUTURE) - 1];
    }
    return quantiles;
  }

  private static List<LevelClaim> claims(
      String name, int units, InventedKits kits, ClaimForm form) {
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
    List<InventedKits.Unit> boards = new ArrayList<>(kits.units(UnitKind.BOARD, units));
    var cellLots = kits.lotsOf(UnitKind.CELL, cells);
    var boardLots = kits.lotsOf(UnitKind.BOARD, boards);
    // boards in another order than cells, so that lots mix
    java.util.Collections.shuffle(boards, new java.util.Random(SEED));
    Design design =
        name.equals("REFERENCE")
            ? new Design(
                Design.Kind.REFERENCE_PARTNER,
                InventedKits.LOADS,
                List.of(),
                Optional.of(new Design.ReferencePartners("rc", "rb", false)))
            : new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of());
    List<ReducedRun> runs = runs(name, kits, cells, boards);
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            form,
            ClaimSubject.KIT,
            OptionalDouble.empty(),
            LEVELS.stream()
                .map(l -> new ClaimRequest.LevelRequest(l, OptionalDouble.empty()))
                .toList());
    return InventedKits.claims(
        InventedKits.study(cellLots, boardLots, design, request, MassClass.F2), runs, false);
  }

  private static List<ReducedRun> runs(
      String name,
      InventedKits kits,
      List<InventedKits.Unit> cells,
      List<InventedKits.Unit> boards) {
    List<ReducedRun> runs = new ArrayList<>();
    int n = cells.size();
    for (int i = 0; i < n; i++) {
      switch (name) {
        case "PAIRS" -> runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
        case "ROTATION" -> {
          runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
          runs.add(kits.run("s" + i, cells.get(i), boards.get((i + 1) % n)));
        }
        case "BLOCKS" -> {
          runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
          runs.add(kits.run("s" + i, cells.get(i), boards.get(i ^ 1)));
        }
        case "CROSSING" -> {
          for (int j = 0; j < n; j++) {
            runs.add(kits.run("r" + i + "-" + j, cells.get(i), boards.get(j)));
          }
        }
        default -> {
          runs.add(kits.run("c" + i, cells.get(i), new InventedKits.Unit("rb", 0.0005, 0, 0)));
          runs.add(kits.run("b" + i, new InventedKits.Unit("rc", 0.0002, 1, 0), boards.get(i)));
        }
      }
    }
    if (name.equals("REFERENCE")) {
      for (int i = 0; i < 6; i++) {
        runs.add(
            kits.run(
                "x" + i,
                new InventedKits.Unit("rc", 0.0002, 1, 0),
                new InventedKits.Unit("rb", 0.0005, 0, 0)));
      }
    }
    return runs;
  }
}
