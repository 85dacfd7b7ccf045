package lotproof.reduce;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.statistics.calibration.StraightLine;
import lotproof.study.Characteristic;
import lotproof.study.DataIssue;
import lotproof.study.Kit;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Computes the characteristics of one load run.
 *
 * <p>With u_j the output in counts at the mass x_j (kg), j counted along the run, u_0 the first
 * reading without load, and b the slope of the reference line (counts/kg):
 *
 * <ul>
 *   <li>terminal line: through (0, u_0) and the first reading at the largest load; least-squares
 *       line: through all rising readings;
 *   <li>sensitivity (mV/V) = b * capacity / (counts per mV/V); factor (counts/kg) = b; zero (mV/V)
 *       = u_0 / (counts per mV/V);
 *   <li>non-linearity (% of capacity) = 100 * d / (b * capacity), where d is the rising reading's
 *       distance from the line that is largest in size, with its sign;
 *   <li>hysteresis (% of capacity) = 100 * h / (b * capacity), where h is the falling minus the
 *       rising output at the same planned load above zero, less b times what their masses differ,
 *       largest in size, with its sign;
 *   <li>zero return (g) = 1000 * (last output without load - u_0) / b;
 *   <li>noise (g) = 1000 * root mean square of the recorded sample noise / b.
 * </ul>
 *
 * <p>A run needs a first reading without load and at least one rising load. A characteristic that a
 * run does not show (no falling readings, no recorded noise) is absent. Definitions: common
 * practice; the terminal and least-squares lines are those named in docs/glossary.md.
 */
public final class LoadRunReduction {
  private static final double GRAMS_PER_KILOGRAM = 1000;

  /** Share of the factory factor below which an output says nothing of the load. */
  private static final double LEAST_SLOPE_SHARE = 1e-9;

  private final Kit kit;
  private final Study.ReferenceLine line;

  public LoadRunReduction(Kit kit, Study.ReferenceLine line) {
    this.kit = kit;
    this.line = line;
  }

  /** Reduces every run that can be reduced and says why the others cannot. */
  public Reduction reduce(List<LoadRun> runs) {
    List<ReducedRun> reduced = new ArrayList<>();
    List<DataIssue> issues = new ArrayList<>();
    for (LoadRun run : runs) {
      String trouble = trouble(run);
      if (trouble.isEmpty()) {
        reduced.add(reduce(run));
      } else {
        issues.add(issue(run, trouble));
      }
    }
    return new Reduction(reduced, issues);
  }

  private String trouble(LoadRun run) {
    Reading first = run.readings().get(0);
    Reading top = run.readings().get(run.peak());
    if (first.loadKilograms() != 0) {
      return "the run does not begin without load, so it has no zero; it is left out";
    }
    if (top.loadKilograms() == 0) {
      return "the run has no reading above zero load; it is left out";
    }
    double rise = top.outputCounts() - first.outputCounts();
    double least = LEAST_SLOPE_SHARE * kit.defaultFactorCountsPerKilogram() * top.loadKilograms();
    // by least squares the line can fall although its ends rise
    if (!(rise > least && referenceLine(run).slope() * top.loadKilograms() > least)) {
      return "the output does not rise with the load (wires swapped, or a dead channel); the run is"
          + " left out";
    }
    return "";
  }

  private static DataIssue issue(LoadRun run, String message) {
    return DataIssue.warning(
        DataIssue.Code.RUN_INCOMPLETE,
        "readings.csv",
        run.readings().get(0).recordLine(),
        "",
        run.pair(),
        "run " + run.name() + ": " + message);
  }

  private ReducedRun reduce(LoadRun run) {
    StraightLine reference = referenceLine(run);
    double slope = reference.slope();
    Map<Characteristic, Double> values = new EnumMap<>(Characteristic.class);
    double zero = run.readings().get(0).outputCounts();
    double spanCounts = slope * kit.capacityKilograms();
    values.put(Characteristic.FACTOR, slope);
    values.put(Characteristic.SENSITIVITY, spanCounts / kit.countsPerMillivoltPerVolt());
    values.put(Characteristic.ZERO, zero / kit.countsPerMillivoltPerVolt());
    values.put(Characteristic.NON_LINEARITY, 100 * reference.largestDeviation() / spanCounts);
    largestHysteresis(run, slope)
        .ifPresent(counts -> values.put(Characteristic.HYSTERESIS, 100 * counts / spanCounts));
    lastZero(run)
        .ifPresent(
            last ->
                values.put(Characteristic.ZERO_RETURN, GRAMS_PER_KILOGRAM * (last - zero) / slope));
    noise(run)
        .ifPresent(counts -> values.put(Characteristic.NOISE, GRAMS_PER_KILOGRAM * counts / slope));
    return new ReducedRun(run, values, slope);
  }

  /** The reference line through the rising readings. */
  private StraightLine referenceLine(LoadRun run) {
    List<Reading> rising = run.readings().subList(0, run.peak() + 1);
    StraightLine.Kind kind =
        switch (line) {
          case TERMINAL -> StraightLine.Kind.TERMINAL;
          case LEAST_SQUARES -> StraightLine.Kind.LEAST_SQUARES;
        };
    return StraightLine.fit(
        kind,
        rising.stream().mapToDouble(Reading::loadKilograms).toArray(),
        rising.stream().mapToDouble(Reading::outputCounts).toArray());
  }

  private static OptionalDouble largestHysteresis(LoadRun run, double slope) {
    OptionalDouble largest = OptionalDouble.empty();
    for (int i = run.peak() + 1; i < run.readings().size(); i++) {
      OptionalInt rising = run.rising(run.loadsKilograms().get(i));
      if (run.loadsKilograms().get(i) > 0 && rising.isPresent()) {
        int at = rising.getAsInt();
        double difference =
            run.readings().get(i).outputCounts()
                - run.readings().get(at).outputCounts()
                - slope * (run.massKilograms(i) - run.massKilograms(at));
        if (largest.isEmpty() || Math.abs(difference) > Math.abs(largest.getAsDouble())) {
          largest = OptionalDouble.of(difference);
        }
      }
    }
    return largest;
  }

  private static OptionalDouble lastZero(LoadRun run) {
    Reading last = run.readings().get(run.readings().size() - 1);
    boolean returned = last.loadKilograms() == 0 && run.readings().size() > run.peak() + 1;
    return returned ? OptionalDouble.of(last.outputCounts()) : OptionalDouble.empty();
  }

  private static OptionalDouble noise(LoadRun run) {
    OptionalDouble meanSquare =
        run.readings().stream()
            .flatMapToDouble(r -> r.beside().noiseCounts().stream())
            .map(noise -> noise * noise)
            .average();
    return meanSquare.stream().map(Math::sqrt).findFirst();
  }
}
