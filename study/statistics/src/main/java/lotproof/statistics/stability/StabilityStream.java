package lotproof.statistics.stability;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.Interval;
import lotproof.statistics.stability.StabilityCurve.Measure;
import lotproof.statistics.stability.StabilityCurve.NoiseType;
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
  private int keptOctave;
  private long count;

  /** An empty stream. */
  public StabilityStream() {}

  /** Averages of 2^k readings and the differences of neighbours. */
  private static final class Octave {
    private double last;
    private long averages;
    private double squares;

    /** Takes an average; says whether it is the second of a pair. */
    boolean take(double average) {
      double difference = averages == 0 ? 0 : average - last;
      squares += difference * difference;
      last = average;
      return (++averages & 1) == 0;
    }

    double deviation() {
      return Math.sqrt(squares / (averages - 1) / 2);
    }
  }

  /** Takes the next reading. */
  public void add(double reading) {
    if (count < FIRST_READINGS) {
      first = roomFor(first, (int) count);
      first[(int) count] = reading;
    }
    count++;
    double average = reading;
    boolean paired = true;
    for (int k = 0; paired; k++) {
      if (k == octaves.size()) {
        octaves.add(new Octave());
      }
      if (k == keptOctave) {
        keep(average);
      }
      Octave octave = octaves.get(k);
      double before = octave.last;
      paired = octave.take(average);
      average = (before + average) / 2;
    }
  }

  private void keep(double average) {
    if (keptCount == MOST_KEPT) {
      // the next octave makes and keeps an average of this and the next one
      keptCount /= 2;
      for (int j = 0; j < keptCount; j++) {
        kept[j] = (kept[2 * j] + kept[2 * j + 1]) / 2;
      }
      keptOctave++;
    } else {
      kept = roomFor(kept, keptCount);
      kept[keptCount++] = average;
    }
  }

  private static double[] roomFor(double[] values, int index) {
    return index < values.length
        ? values
        : Arrays.copyOf(values, Math.max(2 * values.length, index + 1));
  }

  /** How many readings stand behind each of {@link #averages()}. */
  public int averageFactor() {
    return 1 << keptOctave;
  }

  /** Root of half the mean square of the differences of neighbours; 0 for fewer than three. */
  public double neighbourDeviation() {
    return count > 2 ? octaves.get(0).deviation() : 0;
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
    int factor = averageFactor();
    Measure measure = factor == 1 ? Measure.OVERLAPPING_ALLAN : Measure.ALLAN;
    for (int k = 0; 1L << k < factor; k++) {
      int m = 1 << k;
      noise = noiseAt(start, m).orElse(noise);
      double deviation = octaves.get(k).deviation();
      double df = degreesOfFreedom(Measure.ALLAN, noise, m, count);
      points.add(point(m, secondsPerReading, deviation, noise, df, confidence));
    }
    int largest = Measure.OVERLAPPING_ALLAN.largestFactor(averages.length);
    for (int m = 1; m <= largest; m *= 2) {
      noise = noiseAt(averages, m).orElse(noise);
      double deviation = Stability.deviation(Measure.OVERLAPPING_ALLAN, averages, m);
      long together = (long) m * factor;
      double df =
          degreesOfFreedom(
              Measure.OVERLAPPING_ALLAN, noise, together, (long) averages.length * factor);
      points.add(point(together, secondsPerReading, deviation, noise, df, confidence));
    }
    return Optional.of(new StabilityCurve(measure, points));
  }

  private static Optional<NoiseType> noiseAt(double[] readings, int m) {
    return readings.length / m >= AVERAGES_TO_TELL_NOISE
        ? Optional.of(Stability.noiseType(readings, m))
        : Optional.empty();
  }

  private static double degreesOfFreedom(Measure measure, NoiseType noise, long m, long readings) {
    int like = (int) Math.min(m, SAME_RATIO_FACTOR);
    // more readings than these narrow the interval no further that anyone could see
    int n = (int) Math.min((double) readings * like / m, 1e8);
    return EquivalentDegreesOfFreedom.of(measure, noise, n, like);
  }

  private static Point point(
      long m,
      double secondsPerReading,
      double deviation,
      NoiseType noise,
      double df,
      double confidence) {
    Interval interval = Interval.ofStandardDeviation(deviation, df, confidence);
    int factor = (int) Math.min(m, Integer.MAX_VALUE);
    return new Point(factor, m * secondsPerReading, deviation, interval, noise, df);
  }
}
