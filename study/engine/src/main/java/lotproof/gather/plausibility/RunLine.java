package lotproof.gather.plausibility;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.study.Reading;

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
    List<Reading> ends = ends(readings);
    Optional<RunLine> best = Optional.empty();
    for (int i = 0; i < ends.size(); i++) {
      for (int j = i + 1; j < ends.size(); j++) {
        if (ends.get(i).loadKilograms() != ends.get(j).loadKilograms()) {
          RunLine line = through(ends.get(i), ends.get(j), readings, fitted);
          if (best.isEmpty() || line.isNearer(best.get(), EQUAL * largest, expectedSlope)) {
            best = Optional.of(line);
          }
        }
      }
    }
    return best.map(line -> line.fittedTo(readings, fitted));
  }

  private static List<Reading> ends(List<Reading> readings) {
    int n = readings.size();
    if (n <= MOST_ENDS) {
      return readings;
    }
    return IntStream.range(0, MOST_ENDS)
        .mapToObj(i -> readings.get((int) ((long) i * (n - 1) / (MOST_ENDS - 1))))
        .toList();
  }

  private static RunLine through(Reading a, Reading b, List<Reading> readings, int fitted) {
    double slope = (b.outputCounts() - a.outputCounts()) / (b.loadKilograms() - a.loadKilograms());
    RunLine line = new RunLine(slope, a.outputCounts() - slope * a.loadKilograms(), 0);
    double[] distances = readings.stream().mapToDouble(r -> Math.abs(line.off(r))).toArray();
    Arrays.sort(distances);
    return new RunLine(slope, line.intercept, distances[fitted - 1]);
  }

  private boolean isNearer(RunLine other, double equal, double expectedSlope) {
    if (Math.abs(scatter - other.scatter) > equal) {
      return scatter < other.scatter;
    }
    return farFrom(expectedSlope) < other.farFrom(expectedSlope);
  }

  private double farFrom(double expectedSlope) {
    double ratio = slope / expectedSlope;
    return ratio > 0 ? Math.abs(Math.log(ratio)) : Double.MAX_VALUE;
  }

  private RunLine fittedTo(List<Reading> readings, int fitted) {
    List<Reading> nearest = new ArrayList<>(readings);
    nearest.sort(Comparator.comparingDouble(r -> Math.abs(off(r))));
    nearest = nearest.subList(0, fitted);
    double load = nearest.stream().mapToDouble(Reading::loadKilograms).average().orElse(0);
    double output = nearest.stream().mapToDouble(Reading::outputCounts).average().orElse(0);
    double squares = 0;
    double products = 0;
    for (Reading reading : nearest) {
      double x = reading.loadKilograms() - load;
      squares += x * x;
      products += x * (reading.outputCounts() - output);
    }
    double steepness = squares > 0 ? products / squares : slope;
    RunLine line = new RunLine(steepness, output - steepness * load, 0);
    double far = nearest.stream().mapToDouble(r -> Math.abs(line.off(r))).max().orElse(0);
    return new RunLine(steepness, line.intercept, far);
  }

  /** How far a reading lies above the line, in counts. */
  double off(Reading reading) {
    return reading.outputCounts() - intercept - slope * reading.loadKilograms();
  }

  /** The load that a reading's output stands for, by the line. */
  double kilograms(Reading reading) {
    return (reading.outputCounts() - intercept) / slope;
  }
}
