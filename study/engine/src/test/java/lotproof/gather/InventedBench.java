package lotproof.gather;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.folder.text.UnitsOfMeasure;

/**
 * A study of invented units and one bench file of it, of a shape that comes from the seed:
 * capacity, converter, loads, number of kits, and how far units spread. Units have sensitivities up
 * to 10 % off, zeros up to 5 % of capacity, bow, hysteresis, zero return and noise; a third of the
 * studies have heavy tails (Student's t, 3 degrees of freedom).
 */
final class InventedBench {
  /**
   * Parts of the capacity. The first three show a shift under load on the way down; without falling
   * loads it cannot be told from a wrong number, and is asked.
   */
  private static final List<double[]> SHAPES =
      List.of(
          new double[] {0, .1, .4, .7, 1, .7, .4, .1, 0},
          new double[] {0, .4, 1, .4, 0},
          new double[] {0, .02, .1, .5, 1, .5, .1, .02, 0},
          new double[] {0, .25, .5, .75, 1, 0},
          new double[] {0, .2, .5, 1},
          new double[] {0, 1, 0},
          new double[] {0, .3, .9});

  /** What is wrong with the units of a study. */
  enum Defect {
    NONE,
    SENSITIVITY_LOST,
    HYSTERESIS,
    ZERO_SHIFTED_UNDER_LOAD
  }

  /** One line of the bench file. */
  static final class Line {
    final String run;
    final int step;
    final int kit;
    double load;
    double output;
    double celsius;

    private Line(String run, int step, int kit) {
      this.run = run;
      this.step = step;
      this.kit = kit;
    }
  }

  final Random random;
  final double capacity;
  final double factor;
  final double scale;
  final double[] loads;
  final int kits;
  final List<Line> lines = new ArrayList<>();
  private final boolean tails;
  private final double lowest;

  InventedBench(long seed, Defect defect) {
    random = new Random(seed);
    capacity = new double[] {1, 5, 50, 300, 5000}[random.nextInt(5)];
    scale = new double[] {16384, 131072, 2097152, 8388608}[random.nextInt(4)];
    factor = scale * new double[] {1, 2, 3}[random.nextInt(3)] / capacity;
    double[] shape = SHAPES.get(random.nextInt(defect == Defect.NONE ? SHAPES.size() : 3));
    loads = IntStream.range(0, shape.length).mapToDouble(i -> shape[i] * capacity).toArray();
    kits = 5 + random.nextInt(46);
    tails = random.nextInt(3) == 0;
    lowest = random.nextInt(40) - 10;
    for (int kit = 0; kit < kits; kit++) {
      measure(kit, kit == kits / 2 ? defect : Defect.NONE);
    }
  }

  private void measure(int kit, Defect defect) {
    double span = factor * capacity;
    double spread = 0.05 * draw();
    double slope = factor * (1 + Math.max(-0.1, Math.min(0.1, spread)));
    slope *= defect == Defect.SENSITIVITY_LOST ? 0.7 : 1;
    double zero = span * 0.05 * (2 * random.nextDouble() - 1);
    double bow = 1e-4 * draw();
    double hysteresis = defect == Defect.HYSTERESIS ? 0.02 : 1e-4 * draw();
    double shift = defect == Defect.ZERO_SHIFTED_UNDER_LOAD ? 0.05 : 0;
    double celsius = lowest + 8 * random.nextDouble();
    int peak = peak();
    int runs = 1 + random.nextInt(2);
    for (int r = 0; r < runs; r++) {
      double zeroReturn = 2e-5 * draw();
      for (int step = 0; step < loads.length; step++) {
        Line line = new Line("R" + (kit + 1) + "-" + (r + 1), step + 1, kit);
        double u = loads[step] / capacity;
        double bent = 4 * u * (1 - u);
        double falling = step > peak ? hysteresis * (bent + 0.1) + shift + zeroReturn : 0;
        double top = step == peak ? shift : 0;
        line.load = loads[step];
        line.output =
            Math.rint(
                    10
                        * (zero
                            + slope * capacity * (u + bow * bent + falling + top)
                            + 3e-6 * span * draw()))
                / 10;
        line.celsius = Math.rint(100 * (celsius + 0.05 * step)) / 100;
        lines.add(line);
      }
    }
  }

  int peak() {
    int peak = 0;
    for (int i = 1; i < loads.length; i++) {
      peak = loads[i] > loads[peak] ? i : peak;
    }
    return peak;
  }

  private double draw() {
    double normal = random.nextGaussian();
    if (!tails) {
      return normal;
    }
    double squares = 0;
    for (int i = 0; i < 3; i++) {
      double more = random.nextGaussian();
      squares += more * more;
    }
    return normal / Math.sqrt(squares / 3);
  }

  String study() {
    String steps =
        IntStream.range(0, loads.length)
            .mapToObj(i -> UnitsOfMeasure.plain(loads[i]) + " kg")
            .collect(Collectors.joining(", "));
    return String.join(
        "\n",
        "format: lotproof-study-1",
        "title: Hive scale",
        "question: How far off does a hive scale read?",
        "seed: 1",
        "kit:",
        "  cell: invented cell",
        "  board: invented board",
        "  capacity: " + UnitsOfMeasure.plain(capacity) + " kg",
        "  default-factor: " + UnitsOfMeasure.plain(factor) + " counts/kg",
        "  converter-scale: " + UnitsOfMeasure.plain(scale) + " counts/(mV/V)",
        "lots:",
        "  cells: [{lot: A, units: [" + serials("C") + "]}]",
        "  boards: [{lot: B, units: [" + serials("B") + "]}]",
        "design:",
        "  kind: disjoint-pairs",
        "  loads: [" + steps + "]",
        "reduction: {reference-line: terminal}",
        "limits: {}",
        "causes: [bench damage]",
        "claim:",
        "  content: 0.9",
        "  confidence: 0.9",
        "  rounding: 1 g",
        "  levels: [{level: none}]",
        "conditions:",
        "  temperature: {lowest: " + whole(lowest) + " °C, highest: " + whole(lowest + 8) + " °C}",
        "  bench-mass-class: M1",
        "");
  }

  private static String whole(double celsius) {
    return String.format(Locale.ROOT, "%.0f", celsius);
  }

  private String serials(String kind) {
    return IntStream.range(0, kits).mapToObj(i -> kind + i).collect(Collectors.joining(", "));
  }

  /** The bench file. */
  String file() {
    StringBuilder text =
        new StringBuilder("run,step,cell,board,load [kg],output [counts],cell temperature [°C]\n");
    for (Line line : lines) {
      text.append(line.run).append(',').append(line.step);
      text.append(",C").append(line.kit).append(",B").append(line.kit).append(',');
      text.append(UnitsOfMeasure.plain(line.load)).append(',');
      text.append(UnitsOfMeasure.plain(line.output)).append(',');
      text.append(UnitsOfMeasure.plain(line.celsius)).append('\n');
    }
    return text.toString();
  }
}
