package lotproof.statistics.stability;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.Interval;
import lotproof.statistics.stability.StabilityCurve.Point;

/**
 * The Allan deviation of a stream of any length in bounded memory.
 *
 * <p>Kept are averages of b successive readings, b a power of two that doubles whenever more than
 * 2^18 of them would be kept, and the first 2^16 readings. At factors m from b on, the overlapping
 * deviation is taken over the kept averages; while b is 1 that is the overlapping deviation of all
 * readings. At factors below b, where hundreds of thousands of differences exist, the deviation is
 * the one over blocks that do not overlap, sqrt(mean (a(j+1) - a(j))² / 2) with a the averages of m
 * readings, summed while the readings go by; its noise kind is read from the first readings.
 *
 * <p>The equivalent degrees of freedom depend on m and n by their ratio; above m = 64 they are
 * taken at m = 64 and the same ratio.
 *
 * <p>Source: as {@link Stability} and {@link StabilityCurve}; the arrangement in octaves is a
 * construction.
 */
public final class StabilityStream {
  private static final int MOST_KEPT = 1 << 18;
  private static final int FIRST_READINGS = 1 << 16;
  private static final int AVERAGES_TO_TELL_NOISE = 30;
  private static final int SAME_RATIO_FACTOR = 64;

  private final List<Octave> octaves = new ArrayList<>();
  private double[] first = new double[256];
  private double[] kept = new double[256];
  private int keptCount;
  private long count;
  private int factor = 1;
  private double blockSum;
  private int blockCount;
  private int blockSize = 1;
  private double heldAverage;
  private boolean holdsAverage;

  /** Averages of 2^k readings and the differences of neighbours. */
  private static final class Octave {
    private double waiting;
    private boolean hasWaiting;
    private double last;
    private long averages;
    private double squares;

    void difference(double average) {
      if (averages++ > 0) {
        squares += (average - last) * (average - last);
      }
      last = average;
    }
  }

  /** Takes the next reading, a finite number. */
  public void add(double reading) {
    if (count < FIRST_READINGS) {
      first = roomFor(first, (int) count);
      first[(int) count] = reading;
    }
    count++;
    cascade(reading);
    blockSum += reading;
    if (++blockCount == blockSize) {
      double average = blockSum / blockSize;
      blockSum = 0;
      blockCount = 0;
      if (holdsAverage) {
        // two short blocks make the first long one
        average = (heldAverage + average) / 2;
        holdsAverage = false;
        blockSize = factor;
      }
      keep(average);
    }
  }

  private void cascade(double reading) {
    double average = reading;
    for (int k = 0; ; k++) {
      if (k == octaves.size()) {
        octaves.add(new Octave());
      }
      Octave octave = octaves.get(k);
      octave.difference(average);
      if (!octave.hasWaiting) {
        octave.waiting = average;
        octave.hasWaiting = true;
        return;
      }
      average = (octave.waiting + average) / 2;
      octave.hasWaiting = false;
    }
  }

  private void keep(double average) {
    if (keptCount == MOST_KEPT) {
      keptCount /= 2;
      for (int i = 0; i < keptCount; i++) {
        kept[i] = (kept[2 * i] + kept[2 * i + 1]) / 2;
      }
      factor *= 2;
      heldAverage = average;
      holdsAverage = true;
      return;
    }
    kept = roomFor(kept, keptCount);
    kept[keptCount++] = average;
  }

  private static double[] roomFor(double[] values, int index) {
    return index < values.length ? values : Arrays.copyOf(values, 2 * values.length);
  }

  /** Number of readings taken. */
  public long count() {
    return count;
  }

  /** How many readings stand behind each of {@link #averages()}. */
  public int averageFactor() {
    return factor;
  }

  /** Averages of successive readings over the whole stream, at most 2^18 of them. */
  public double[] averages() {
    return Arrays.copyOf(kept, keptCount);
  }

  /**
   * The curve at factors 1, 2, 4 and so on.
   *
   * @param secondsPerReading the step
   * @param confidence of the intervals
   * @return empty for fewer than ten readings, or when all are equal
   */
  public Optional<StabilityCurve> curve(double secondsPerReading, double confidence) {
    Checks.positive(secondsPerReading, "secondsPerReading");
    Checks.fraction(confidence, "confidence");
    if (count < 10 || !(octaves.get(0).squares > 0)) {
      return Optional.empty();
    }
    double[] averages = averages();
    double[] start = Arrays.copyOf(first, (int) Math.min(count, FIRST_READINGS));
    List<Point> points = new ArrayList<>();
    NoiseType noise = Stability.noiseType(start, 1);
    StabilityMeasure measure =
        factor == 1 ? StabilityMeasure.OVERLAPPING_ALLAN : StabilityMeasure.ALLAN;
    for (int k = 0; 1L << k < factor; k++) {
      int m = 1 << k;
      noise = noiseAt(start, m).orElse(noise);
      Octave octave = octaves.get(k);
      double deviation = Math.sqrt(octave.squares / (octave.averages - 1) / 2);
      points.add(
          point(m, deviation, StabilityMeasure.ALLAN, noise, count, secondsPerReading, confidence));
    }
    int largest = StabilityMeasure.OVERLAPPING_ALLAN.largestFactor(averages.length);
    for (int m = 1; m <= largest; m *= 2) {
      noise = noiseAt(averages, m).orElse(noise);
      double deviation = Stability.deviation(StabilityMeasure.OVERLAPPING_ALLAN, averages, m);
      points.add(
          point(
              (long) m * factor,
              deviation,
              StabilityMeasure.OVERLAPPING_ALLAN,
              noise,
              (long) averages.length * factor,
              secondsPerReading,
              confidence));
    }
    return Optional.of(new StabilityCurve(measure, points));
  }

  private static Optional<NoiseType> noiseAt(double[] readings, int m) {
    return readings.length / m >= AVERAGES_TO_TELL_NOISE
        ? Optional.of(Stability.noiseType(readings, m))
        : Optional.empty();
  }

  private static Point point(
      long m,
      double deviation,
      StabilityMeasure measure,
      NoiseType noise,
      long readings,
      double secondsPerReading,
      double confidence) {
    int like = (int) Math.min(m, SAME_RATIO_FACTOR);
    // more readings than these narrow the interval no further that anyone could see
    int n = (int) Math.min((double) readings * like / m, 1e8);
    double df = EquivalentDegreesOfFreedom.of(measure, noise, n, like);
    Interval interval = Interval.ofStandardDeviation(deviation, df, confidence);
    int factor = (int) Math.min(m, Integer.MAX_VALUE);
    return new Point(factor, m * secondsPerReading, deviation, interval, noise, df);
  }
}
