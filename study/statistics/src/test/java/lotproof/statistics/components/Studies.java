package lotproof.statistics.components;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/** Published data and invented studies for tests. */
final class Studies {
  private Studies() {}

  static List<NamedCsvRecord> table(String file) {
    String path = "/components/" + file;
    try (InputStream in = Objects.requireNonNull(Studies.class.getResourceAsStream(path), path);
        CsvReader<NamedCsvRecord> reader =
            CsvReader.builder()
                .ofNamedCsvRecord(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      return reader.stream().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Observations of a file; factors separated by ";", columns of one factor joined by ":". */
  static Observations read(String file, String value, String factors) {
    List<NamedCsvRecord> rows = table(file);
    double[] values =
        rows.stream().mapToDouble(row -> Double.parseDouble(row.getField(value))).toArray();
    List<RandomFactor> list = new ArrayList<>();
    for (String factor : factors.isEmpty() ? new String[0] : factors.split(";", -1)) {
      list.add(factor(rows, factor));
    }
    return new Observations(values, list);
  }

  static RandomFactor factor(List<NamedCsvRecord> rows, String name) {
    String[] columns = name.split(":", -1);
    List<String> labels = new ArrayList<>();
    for (NamedCsvRecord row : rows) {
      StringBuilder label = new StringBuilder();
      for (String column : columns) {
        label.append(row.getField(column)).append('|');
      }
      labels.add(label.toString());
    }
    return RandomFactor.of(new Component(name), labels);
  }

  static ComponentsFit fit(Observations observations) {
    FitOutcome outcome = ComponentsFitter.fit(observations, FitOptions.REML);
    if (outcome instanceof ComponentsFit fit) {
      return fit;
    }
    throw new AssertionError("not estimable: " + ((NotEstimable) outcome).reason());
  }

  /** What an invented study looks like. */
  record Shape(int cells, int boards, int passes, int repeatedPairs, boolean pair, boolean lots) {}

  static UniformRandomProvider random(long seed) {
    return RandomSource.XO_SHI_RO_256_PP.create(seed);
  }

  /** A rotation: pass k joins cell i and board i + k; the first pairs are read twice. */
  static Observations rotation(Shape shape, double[] sds, double missing, long seed) {
    UniformRandomProvider random = random(seed);
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] cell = draws(normal, shape.cells, sds[0]);
    double[] board = draws(normal, shape.boards, sds[1]);
    double[] cellLot = draws(normal, 3, shape.lots ? sds[4] : 0);
    List<Integer> cells = new ArrayList<>();
    List<Integer> boards = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    for (int pass = 0; pass < shape.passes; pass++) {
      for (int i = 0; i < shape.cells; i++) {
        int b = (i + pass) % shape.boards;
        double joint = sds[2] * normal.sample();
        int times = pass == 0 && i < shape.repeatedPairs ? 2 : 1;
        if (i > 2 && random.nextDouble() < missing) {
          continue;
        }
        for (int t = 0; t < times; t++) {
          cells.add(i);
          boards.add(b);
          values.add(3 + cellLot[i % 3] + cell[i] + board[b] + joint + sds[3] * normal.sample());
        }
      }
    }
    List<RandomFactor> factors = new ArrayList<>();
    factors.add(numbered("cell", cells));
    factors.add(numbered("board", boards));
    if (shape.pair) {
      List<Integer> pairs = new ArrayList<>();
      for (int i = 0; i < cells.size(); i++) {
        pairs.add(cells.get(i) * shape.boards + boards.get(i));
      }
      factors.add(numbered("pair", pairs));
    }
    if (shape.lots) {
      factors.add(numbered("cellLot", cells.stream().map(c -> c % 3).toList()));
    }
    return new Observations(values.stream().mapToDouble(v -> v).toArray(), factors);
  }

  static RandomFactor numbered(String name, List<Integer> levels) {
    return RandomFactor.of(new Component(name), levels.stream().map(String::valueOf).toList());
  }

  static double[] draws(NormalizedGaussianSampler normal, int count, double sd) {
    double[] result = new double[count];
    for (int i = 0; i < count; i++) {
      result[i] = sd * normal.sample();
    }
    return result;
  }

  /** Inflation of curves whose points are fitted one by one. */
  static double inflation(double[][] curves, List<RandomFactor> factors, double confidence) {
    List<FutureUnitLimits> points = new ArrayList<>();
    for (int x = 0; x < curves[0].length; x++) {
      int point = x;
      double[] values = Arrays.stream(curves).mapToDouble(curve -> curve[point]).toArray();
      if (Arrays.stream(values).distinct().count() > 1) {
        ComponentsFit fit = fit(new Observations(values, factors));
        points.add(FutureUnitLimits.of(fit, Set.of(), 0.95, confidence));
      }
    }
    return CurveComponents.inflation(points);
  }
}
