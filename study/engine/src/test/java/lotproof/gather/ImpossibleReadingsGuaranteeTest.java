package lotproof.gather;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import lotproof.folder.StudyFolder;
import lotproof.gather.InventedBench.Defect;
import lotproof.gather.InventedBench.Line;
import lotproof.study.DataIssue;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * One impossible reading in a bench file keeps the file out until a person accepts it; a clean file
 * gives no issue, and a defective unit is never refused. Construction of the studies: {@link
 * InventedBench}.
 */
class ImpossibleReadingsGuaranteeTest {
  private static final long SEED = 20270311;

  /**
   * A changed number is impossible when it moves the reading by more of the capacity. Less is what
   * a unit may do, and nobody can tell it from a unit.
   */
  private static final double MOVES = 0.005;

  private static final List<Defect> DEFECTS =
      List.of(Defect.SENSITIVITY_LOST, Defect.HYSTERESIS, Defect.ZERO_SHIFTED_UNDER_LOAD);

  @TempDir Path temp;

  private List<DataIssue> imported(InventedBench bench, String name) {
    try {
      Path root = Files.createDirectories(temp.resolve(name));
      Files.writeString(root.resolve("study.yaml"), bench.study());
      Path file = Files.writeString(temp.resolve(name + ".csv"), bench.file());
      return Imports.preview(StudyFolder.at(root), file, Imports.TEXT_ONLY).outcome().issues();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Changes one number of one reading, or all of them; returns what was done. */
  private static String spoil(InventedBench bench) {
    Random random = bench.random;
    if (random.nextInt(5) == 0) {
      return spoilAll(bench, random);
    }
    while (true) {
      Line line = bench.lines.get(random.nextInt(bench.lines.size()));
      double[] factors = {10, 100, 1000, 256, 0.1, 0.001, -1, 1e200 / 3};
      double factor = factors[random.nextInt(factors.length)];
      String where = " in step " + line.step + " of run " + line.run;
      int what = random.nextInt(3);
      double moved = Math.abs((factor - 1) * (what == 1 ? line.load * bench.factor : line.output));
      if (what == 2 && factor > 1) {
        String from = line.celsius + " °C";
        line.celsius = random.nextBoolean() ? line.celsius * 1.8 + 32 + 20 : line.celsius + 50;
        return from + " became " + line.celsius + where;
      } else if (what != 2 && moved > MOVES * bench.capacity * bench.factor) {
        if (what == 1 && factor > 0) {
          line.load *= factor;
          return "load times " + factor + where;
        } else if (what == 0) {
          line.output *= factor;
          return "output times " + factor + where;
        }
      }
    }
  }

  private static String spoilAll(InventedBench bench, Random random) {
    double[] factors = {256, 1 / bench.scale, 1000, 0.001, 0.45359237, 2.2046226, 0, -1};
    double factor = factors[random.nextInt(factors.length)];
    for (Line line : bench.lines) {
      double load = line.load;
      line.load = factor == 0 ? Math.max(0, line.output) : load;
      line.output = factor == 0 ? load : factor * line.output;
    }
    return factor == 0 ? "load and output exchanged" : "all outputs times " + factor;
  }

  private void everyImpossibleReadingIsAsked(int studies) {
    List<String> silent = new ArrayList<>();
    for (int i = 0; i < studies; i++) {
      InventedBench bench = new InventedBench(SEED + i, Defect.NONE);
      String change = spoil(bench);
      List<DataIssue> issues = imported(bench, "spoilt-" + i);
      if (issues.stream().noneMatch(DataIssue::isError)) {
        silent.add("seed " + (SEED + i) + ": " + change + " gave " + issues);
      }
    }
    assertThat(silent).isEmpty();
  }

  private void cleanStudiesAreTakenWithoutAWord(int studies, int most) {
    List<String> loud = new ArrayList<>();
    for (int i = 0; i < studies; i++) {
      long seed = SEED - 1 - i;
      List<DataIssue> issues = imported(new InventedBench(seed, Defect.NONE), "clean-" + i);
      if (!issues.isEmpty()) {
        loud.add("seed " + seed + ": " + issues.get(0).sentence());
      }
    }
    System.out.println("clean studies with an issue: " + loud.size() + " of " + studies);
    assertThat(loud).hasSizeLessThanOrEqualTo(most);
  }

  private void defectiveUnitsAreTaken(int studies) {
    for (int i = 0; i < studies; i++) {
      long seed = SEED + 100_000 + i;
      Defect defect = DEFECTS.get(i % DEFECTS.size());
      assertThat(imported(new InventedBench(seed, defect), "defective-" + i))
          .as("seed " + seed + ", " + defect)
          .noneMatch(DataIssue::isError);
    }
  }

  @Test
  void aFewImpossibleReadings() {
    everyImpossibleReadingIsAsked(30);
  }

  @Test
  void aFewCleanStudies() {
    cleanStudiesAreTakenWithoutAWord(20, 1);
  }

  @Test
  void aFewDefectiveUnits() {
    defectiveUnitsAreTaken(12);
  }

  @Test
  @Tag("guarantee")
  void impossibleReadings() {
    everyImpossibleReadingIsAsked(200);
  }

  @Test
  @Tag("guarantee")
  void cleanStudies() {
    cleanStudiesAreTakenWithoutAWord(200, 10);
  }

  @Test
  @Tag("guarantee")
  void defectiveUnits() {
    defectiveUnitsAreTaken(200);
  }
}
