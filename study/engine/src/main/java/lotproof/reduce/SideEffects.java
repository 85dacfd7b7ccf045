package lotproof.reduce;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.study.Kit;
import lotproof.study.Reading;
import lotproof.study.SideTest;

/**
 * What the runs of a side test show, in grams.
 *
 * <p>With u_j the output at step j with load x_j, u_k that of the first step of the run with the
 * same planned load, and b the run's own slope (counts/kg; between the first step and the first one
 * with a load, or else the factory default factor): effect_j = 1000 * (u_j - u_k) / b - 1000 * (x_j
 * - x_k), the last part being what the masses differ. An effect that grows with the load is scaled
 * from x_j to the largest load of the study; without load, and for an effect that does not grow, it
 * stays as it is and counts as at no load.
 *
 * @param test the side test
 * @param kit the kit of the study
 * @param largestKilograms largest load of the study, above 0
 */
public record SideEffects(SideTest test, Kit kit, double largestKilograms) {
  private static final double GRAMS_PER_KILOGRAM = 1000;

  public SideEffects {
    if (!(largestKilograms > 0 && Double.isFinite(largestKilograms))) {
      throw new IllegalArgumentException(
          "the largest load must be above 0 kg, was " + largestKilograms);
    }
  }

  /** The effects of one run, step by step; empty when its loads are not those of the test. */
  public Optional<ErrorCurve> curve(LoadRun run) {
    List<Double> loads = run.loadsKilograms();
    if (!loads.equals(test.loadsKilograms())) {
      return Optional.empty();
    }
    double slope = slope(run);
    if (!(slope > 0)) {
      return Optional.empty();
    }
    List<ErrorCurve.Point> points = new ArrayList<>();
    for (int j = 0; j < loads.size(); j++) {
      double load = loads.get(j);
      int first = loads.indexOf(load);
      if (first == j) {
        continue;
      }
      List<Reading> readings = run.readings();
      double counts = readings.get(j).outputCounts() - readings.get(first).outputCounts();
      double added = run.massKilograms(j) - run.massKilograms(first);
      double grams = GRAMS_PER_KILOGRAM * counts / slope - GRAMS_PER_KILOGRAM * added;
      boolean scaled = test.effect().growsWithLoad() && load > 0;
      points.add(
          new ErrorCurve.Point(
              scaled ? largestKilograms : 0,
              Direction.RISING,
              scaled ? grams * largestKilograms / load : grams));
    }
    return Optional.of(new ErrorCurve(run.name(), run.cell(), run.board(), points));
  }

  private double slope(LoadRun run) {
    Reading zero = run.readings().get(0);
    return run.readings().stream()
        .filter(reading -> reading.loadKilograms() > 0)
        .findFirst()
        .map(r -> (r.outputCounts() - zero.outputCounts()) / r.loadKilograms())
        .orElse(kit.defaultFactorCountsPerKilogram());
  }
}
