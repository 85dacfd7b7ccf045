package lotproof.gather.plausibility;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import lotproof.study.Reading;
import org.apache.commons.math3.stat.regression.SimpleRegression;

/**
 * The straight line that most readings of a run lie on, so that one reading which is wrong by any
 * amount does not move it.
 *
 * <p>Of the lines through each two readings at different loads the one is taken that has the
 * smallest h-th smallest distance, h being all but a third of the readings (at least one of three
 * and more is left open); the line is then fitted to those h by least squares. Of lines that are
 * equally near, as with three readings, the one counts whose slope is nearest to the expected.
 * Least quantile of squares: P. J. Rousseeuw, Least median of squares regression, Journal of the
 * American Statistical Association 79 (1984), 871-880.
 *
 * @param slope counts per kg
 * @param intercept counts without load
 * @param scatter largest distance, in counts, of the readings that the line was fitted to
 */
record RunLine(double slope, double intercept, double scatter) {

  /** Of longer runs this many readings, evenly spread, give the lines to choose from. */
  private static final int MOST_ENDS = 20;

  /** Distances of lines that differ by less, as part of the largest output, are equal. */
  private static final double EQUAL = 1e-9;

  /** The line of readings; empty when they have one load only. */
  static Optional<RunLine> of(List<Reading> readings, double expectedSlope) {
    int n = readings.size();
    int fitted = n < 3 ? n : n - Math.max(1, (n - 1) / 3);
    double largest = readings.stream().mapToDouble(r -> Math.abs(r.outputCounts())).max().orElse(0);
    int ends = Math.min(n, MOST_ENDS);
    Optional<RunLine> best = Optional.empty();
    for (int i = 0; i < ends; i++) {
      for (int j = i + 1; j < ends; j++) {
        Reading one = readings.get((int) ((long) i * (n - 1) / (ends - 1)));
        Reading other = readings.get((int) ((long) j * (n - 1) / (ends - 1)));
        if (one.loadKilograms() != other.loadKilograms()) {
          RunLine line = through(List.of(one, other)).scattered(readings, fitted);
          if (best.isEmpty() || line.isNearer(best.get(), EQUAL * largest, expectedSlope)) {
            best = Optional.of(line);
          }
        }
      }
    }
    return best.map(
        line -> {
          List<Reading> nearest =
              readings.stream()
                  .sorted(Comparator.comparingDouble(r -> Math.abs(line.off(r))))
                  .limit(fitted)
                  .toList();
          RunLine of = through(nearest);
          return Double.isNaN(of.slope) ? line : of.scattered(nearest, fitted);
        });
  }

  private static RunLine through(List<Reading> readings) {
    SimpleRegression line = new SimpleRegression();
    readings.forEach(r -> line.addData(r.loadKilograms(), r.outputCounts()));
    return new RunLine(line.getSlope(), line.getIntercept(), 0);
  }

  private RunLine scattered(List<Reading> readings, int fitted) {
    double[] distances = readings.stream().mapToDouble(r -> Math.abs(off(r))).sorted().toArray();
    return new RunLine(slope, intercept, distances[fitted - 1]);
  }

  private boolean isNearer(RunLine other, double equal, double expectedSlope) {
    return Math.abs(scatter - other.scatter) > equal
        ? scatter < other.scatter
        : farFrom(expectedSlope) < other.farFrom(expectedSlope);
  }

  private double farFrom(double expectedSlope) {
    double ratio = slope / expectedSlope;
    return ratio > 0 ? Math.abs(Math.log(ratio)) : Double.MAX_VALUE;
  }

  /** How far a reading lies above the line, in counts. */
  double off(Reading reading) {
    return reading.outputCounts() - output(reading.loadKilograms());
  }

  /** The output at a load, by the line. */
  double output(double loadKilograms) {
    return intercept + slope * loadKilograms;
  }

  /** The load that a reading's output stands for, by the line. */
  double kilograms(Reading reading) {
    return (reading.outputCounts() - intercept) / slope;
  }
}
