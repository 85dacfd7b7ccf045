package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import lotproof.app.cli.Exit;

/**
 * A study that nothing was made for: three units of each kind from one lot, serials of forty
 * characters, a title that wants to be a script, remarks that want to be formulas, and numbers from
 * billionths to trillions. It comes from a seed.
 */
final class UglyStudy {
  static final long SEED = 20261125;
  static final String TITLE = "<script>alert('x')</script> \uD83D\uDC1D & \"hive\" =1+1";
  static final List<String> CELLS =
      List.of(serial("CELL", 1), serial("CELL", 2), serial("<b>CELL", 3));
  static final List<String> BOARDS = List.of(serial("BOARD", 1), serial("BOARD", 2), "=1+1");

  private static final double COUNTS_PER_MILLIVOLT_PER_VOLT = 4e12;
  private static final double CAPACITY_KILOGRAMS = 5_000;
  private static final double[] LOADS = {0, 2_500, 5_000, 2_500, 0};

  private UglyStudy() {}

  /** The study folder, with its record. */
  static Path into(Path folder) {
    try {
      Path study = Files.createDirectories(folder.resolve("ugly"));
      Files.writeString(study.resolve("study.yaml"), definition());
      Path bench = Files.writeString(folder.resolve("bench <1> & co.csv"), bench());
      Ran ran = Ran.lotproof("import", study, bench);
      assertThat(ran.exit()).as(ran.err() + ran.out()).isEqualTo(Exit.DONE);
      return study;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String serial(String start, int number) {
    String filled = start + "-0123456789-0123456789-0123456789-0123456789";
    return filled.substring(0, 36) + String.format(Locale.ROOT, "-%03d", number);
  }

  private static String quoted(String text) {
    return "'" + text.replace("'", "''") + "'";
  }

  private static String definition() {
    StringBuilder pairs = new StringBuilder();
    for (int[] pair :
        new int[][] {{0, 0, 2}, {0, 1, 2}, {1, 0, 1}, {1, 2, 1}, {2, 1, 1}, {2, 2, 1}}) {
      pairs
          .append("    - {cell: ")
          .append(quoted(CELLS.get(pair[0])))
          .append(", board: ")
          .append(quoted(BOARDS.get(pair[1])))
          .append(", runs: ")
          .append(pair[2])
          .append("}\n");
    }
    return String.join(
        "\n",
        "format: lotproof-study-1",
        "title: " + quoted(TITLE),
        "question: 'How far off? <img src=x onerror=alert(1)>'",
        "seed: 1",
        "kit:",
        "  cell: 'column cell & more'",
        "  board: '<i>board</i>'",
        "  capacity: 5000 kg",
        "  default-factor: 1600000000 counts/kg",
        "  converter-scale: 4000000000000 counts/(mV/V)",
        "lots:",
        "  cells:",
        "    - lot: 'LOT-OF-CELLS-0123456789-0123456789-01234'",
        "      units: [" + String.join(", ", CELLS.stream().map(UglyStudy::quoted).toList()) + "]",
        "  boards:",
        "    - lot: 'B'",
        "      units: [" + String.join(", ", BOARDS.stream().map(UglyStudy::quoted).toList()) + "]",
        "design:",
        "  kind: full-crossing",
        "  loads: [0 kg, 2500 kg, 5000 kg, 2500 kg, 0 kg]",
        "  pairs:",
        pairs.toString().stripTrailing(),
        "limits:",
        "  sensitivity: {lower: 0.000001 mV/V, upper: 1000000 mV/V}",
        "causes: [bench damage]",
        "claim:",
        "  content: 0.9",
        "  confidence: 0.9",
        "  rounding: 0.001 g",
        "  levels:",
        "    - {level: none, wanted: 0.005 g}",
        "    - {level: one-point, at: 5000 kg, mass-class: M1, wanted: 123456789 g}",
        "conditions:",
        "  temperature: {lowest: -20 °C, highest: 60 °C}",
        "  bench-mass-class: M1",
        "  notes:",
        "    - '</li></ul><script>alert(2)</script> \uD83D\uDC1D'",
        "");
  }

  private static String bench() {
    Random random = new Random(SEED);
    StringBuilder csv =
        new StringBuilder(
            "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
                + "cell temperature [°C],board temperature [°C],remark\n");
    int run = 0;
    for (int c = 0; c < CELLS.size(); c++) {
      double sensitivity = 2 * (1 + 0.002 * random.nextGaussian());
      for (int b = 0; b < BOARDS.size(); b++) {
        if ((c + b) % 3 == 2) {
          continue; // never measured
        }
        double gain = 1 + (b - 1) * 0.0015;
        for (int repeat = 0; repeat < (c == 0 ? 2 : 1); repeat++) {
          run++;
          for (int step = 0; step < LOADS.length; step++) {
            double part = LOADS[step] / CAPACITY_KILOGRAMS;
            double bent = part + 2e-4 * part * (1 - part) + (step > 2 ? 5e-5 * part : 0);
            double counts =
                COUNTS_PER_MILLIVOLT_PER_VOLT * (sensitivity * gain * bent + 1e-3 * c)
                    + 1e6 * random.nextGaussian();
            csv.append(
                String.format(
                    Locale.ROOT,
                    "S1,2026-11-25T10:%02d:%02d,R%02d,%d,\"%s\",\"%s\",%.0f,%.6f,0.000000001,%.2f,%.2f,\"%s\"%n",
                    run,
                    step,
                    run,
                    step + 1,
                    CELLS.get(c),
                    BOARDS.get(b),
                    LOADS[step],
                    counts,
                    -15.0 + run,
                    55.0 + step,
                    step == 0 ? "=HYPERLINK(\"\"http://example.invalid\"\") \uD83D\uDC1D" : ""));
          }
        }
      }
    }
    return csv.toString();
  }
}
