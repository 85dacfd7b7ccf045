package lotproof.benchmarks;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.RandomFactor;

/** Writes the data of the benchmarks as CSV files, so that another program can fit the same. */
public final class BesideR {
  private static final int REFITS = 64;

  private BesideR() {}

  /**
   * Writes the files.
   *
   * @param args the directory to write to
   */
  public static void main(String[] args) throws IOException {
    Path directory = Files.createDirectories(Path.of(args[0]));
    InventedStudy rotation = InventedStudy.rotation(50, 1);
    Observations observations = rotation.observations();
    write(directory.resolve("rotation.csv"), observations);
    double[][] values = new double[REFITS][];
    for (int i = 0; i < REFITS; i++) {
      values[i] = rotation.values();
    }
    try (BufferedWriter out = Files.newBufferedWriter(directory.resolve("rotation-values.csv"))) {
      for (int reading = 0; reading < values[0].length; reading++) {
        List<String> row = new ArrayList<>();
        for (double[] study : values) {
          row.add(Double.toString(study[reading]));
        }
        out.write(String.join(",", row) + "\n");
      }
    }
    Observations large = InventedStudy.scattered(1000, 1000, 200_000, 2).observations();
    write(directory.resolve("large.csv"), large);
    report("criterion-of-rotation", StatisticsBenchmark.fitted(observations));
    report("criterion-of-large", StatisticsBenchmark.fitted(large));
  }

  @SuppressWarnings("SystemOut") // a program of its own, read by a script
  private static void report(String name, ComponentsFit fit) {
    System.out.printf(Locale.ROOT, "%s %.9f%n", name, fit.minusTwoLogLikelihood());
  }

  private static void write(Path file, Observations observations) throws IOException {
    double[] y = observations.values();
    List<int[]> levels = observations.factors().stream().map(RandomFactor::levelOf).toList();
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      List<String> names =
          observations.factors().stream().map(factor -> factor.component().name()).toList();
      out.write(String.join(",", names) + ",y\n");
      for (int i = 0; i < y.length; i++) {
        StringBuilder row = new StringBuilder();
        for (int[] level : levels) {
          row.append(level[i]).append(',');
        }
        out.write(row.append(y[i]).append('\n').toString());
      }
    }
  }
}
