package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * How often kits that pass a production test at one temperature keep a figure that holds for a
 * change of temperature between calibration and use, over simulated studies.
 */
@Tag("guarantee")
class LimitsGuaranteeTest {
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 500);
  private static final int MADE = 1000;
  private static final double TESTER = 0.3;
  private static final double COLD = 19;
  private static final double WARM = 25;
  private static final CalibrationLevel LEVEL =
      new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1);

  @ParameterizedTest(name = "{0} kits measured again")
  @ValueSource(ints = {12, 30})
  void kitsThatPassKeepTheFigureAfterAChange(int again) throws IOException {
    int kept = 0;
    int judged = 0;
    int refused = 0;
    double mean = 0;
    double least = 1;
    for (int s = 0; s < STUDIES; s++) {
      InventedKits kits = new InventedKits(SimulatedFigures.SEED + s, 1, 0);
      StudyResult result = study(kits, again);
      Optional<LevelOutcome.Figure> found = result.asDecided().claims().get(0).figure();
      if (found.isEmpty()) {
        refused++;
        continue;
      }
      double figure = 1.3 * found.get().printableGrams();
      LimitOptions options =
          new LimitOptions(
              Map.of(LEVEL.key(), figure), List.of(), true, OptionalDouble.of(TESTER), false, 0.95);
      if (ProductionLimits.of(result, options).levels().get(0).finished()
          instanceof ProductionTest.Finished test) {
        double share = share(kits, test, figure - test.addedGrams());
        judged++;
        kept += share >= 0.95 ? 1 : 0;
        mean += share;
        least = Math.min(least, share);
      }
    }
    Path file = Path.of("target", "guarantees-limits.md");
    Files.createDirectories(file.getParent());
    Files.writeString(
        file,
        String.format(
            Locale.ROOT,
            "| %d | %d of %d | %.3f | %.4f | %.4f |%n",
            again,
            judged,
            STUDIES,
            kept / (double) judged,
            mean / judged,
            least),
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
    assertThat(judged).isPositive();
    SimulatedFigures.assertRefusedAtItsRate(refused, STUDIES);
    assertThat(kept / (double) judged).isGreaterThan(0.95);
  }

  private static StudyResult study(InventedKits kits, int again) {
    int units = 30;
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
    List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, units);
    List<Reading> readings = new java.util.ArrayList<>();
    for (int i = 0; i < units; i++) {
      double first = i % 2 == 0 ? COLD : WARM;
      add(readings, kits.runAt("r" + i, cells.get(i), boards.get(i), first));
      add(readings, kits.runAt("s" + i, cells.get(i), boards.get((i + 1) % units), first));
      if (i < again) {
        add(readings, kits.runAt("t" + i, cells.get(i), boards.get(i), COLD + WARM - first));
      }
    }
    ClaimRequest claim =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    LEVEL,
                    OptionalDouble.empty(),
                    Optional.of(new ClaimRequest.TemperatureCorrection(0)))));
    Study study =
        InventedKits.study(
            kits.lotsOf(UnitKind.CELL, cells),
            kits.lotsOf(UnitKind.BOARD, boards),
            new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of()),
            claim,
            MassClass.F2);
    return new StudyAnalysis(study).analyse(readings, List.of());
  }

  private static void add(List<Reading> readings, ReducedRun run) {
    readings.addAll(run.run().readings());
  }

  /** Of new kits that pass, the share that keeps what is left of the figure without guard bands. */
  private static double share(InventedKits kits, ProductionTest.Finished test, double room) {
    ErrorOfReading errors =
        new ErrorOfReading(InventedKits.kit(), InventedKits.MEAN_PER_KELVIN, 22);
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, MADE);
    List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, MADE);
    int passed = 0;
    int kept = 0;
    for (int i = 0; i < MADE; i++) {
      ReducedRun cold = kits.runAt("c" + i, cells.get(i), boards.get(i), COLD);
      ReducedRun warm = kits.runAt("w" + i, cells.get(i), boards.get(i), WARM);
      if (largest(errors.curve(warm, LEVEL).orElseThrow(), kits) <= test.acceptGrams()) {
        passed++;
        ErrorCurve used = errors.curve(cold.run(), warm.run(), LEVEL).orElseThrow();
        kept += used.largestGrams() <= room ? 1 : 0;
      }
    }
    return passed == 0 ? 1 : kept / (double) passed;
  }

  private static double largest(ErrorCurve curve, InventedKits kits) {
    return curve.points().stream()
        .mapToDouble(p -> Math.abs(p.errorGrams() + TESTER * kits.gaussian()))
        .max()
        .orElse(0);
  }
}
