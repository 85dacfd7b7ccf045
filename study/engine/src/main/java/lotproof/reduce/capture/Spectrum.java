package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.capture.CaptureNoise.Periodic;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.regression.SimpleRegression;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/**
 * Sines that stand out of noise.
 *
 * <p>The samples less their straight line, under a Hann window, are transformed. In noise the
 * powers of a neighbourhood are close to exponential about one level. Of c times the median of k
 * such powers, r of which are up to it, another one is above with the chance of the product over i
 * = 0 .. r - 1 of (k - i) / (k - i + c) (the gaps of ordered exponentials are independent, Renyi
 * 1953, from memory); k is the number of neighbours over the width of the window, 1.5 transform
 * lines. A peak counts when the chance of one as high anywhere is below one in a thousand. Its
 * frequency is that of the parabola through three logarithms of power, its amplitude the windowed
 * transform at that frequency. A construction of textbook parts.
 */
final class Spectrum {
  /** Only so many are looked at. */
  static final int MOST_SAMPLES = 1 << 17;

  private static final int LEAST_SAMPLES = 64;
  private static final int NEIGHBOURS = 32;
  private static final int LOWEST_BIN = 12;
  private static final double CHANCE = 1e-3;
  private static final double WINDOW_LINES = 1.5;
  private static final int SHOWN = 5;
  private static final double[] MAINS = {50, 60, 100, 120, 150, 180};

  private Spectrum() {}

  /** The sines in the first samples, strongest first. */
  static List<Periodic> periodic(
      double[] samples, double variance, OptionalDouble secondsPerSample) {
    int n = samples.length;
    if (n < LEAST_SAMPLES || !(variance > 0)) {
      return List.of();
    }
    double[] windowed = windowed(samples);
    int size = Math.max(LEAST_SAMPLES, Integer.highestOneBit(n - 1) << 1);
    Complex[] transform =
        new FastFourierTransformer(DftNormalization.STANDARD)
            .transform(Arrays.copyOf(windowed, size), TransformType.FORWARD);
    double[] power = new double[size / 2 + 1];
    for (int i = 0; i < power.length; i++) {
      double re = transform[i].getReal();
      double im = transform[i].getImaginary();
      power[i] = re * re + im * im;
    }
    double width = WINDOW_LINES * size / n;
    List<Integer> peaks = new ArrayList<>();
    for (int bin = LOWEST_BIN; bin < power.length - 2; bin++) {
      boolean peak = isPeak(power, bin);
      if (peak && chance(power, bin, width) * power.length < CHANCE) {
        peaks.add(bin);
      }
    }
    // a repeated pattern has hundreds of lines; each costs a pass over the samples
    return peaks.stream()
        .sorted(Comparator.comparingDouble((Integer bin) -> power[bin]).reversed())
        .limit(SHOWN)
        .map(bin -> sine(windowed, power, bin, size, variance, secondsPerSample))
        .sorted(Comparator.comparingDouble(Periodic::amplitude).reversed())
        .toList();
  }

  private static double[] windowed(double[] samples) {
    int n = samples.length;
    SimpleRegression line = new SimpleRegression();
    for (int i = 0; i < n; i++) {
      line.addData(i, samples[i]);
    }
    double[] windowed = new double[n];
    for (int i = 0; i < n; i++) {
      double hann = 0.5 - 0.5 * Math.cos(2 * Math.PI * (i + 0.5) / n);
      windowed[i] = hann * (samples[i] - line.predict(i));
    }
    return windowed;
  }

  private static boolean isPeak(double[] power, int bin) {
    for (int i = bin - 3; i <= Math.min(power.length - 1, bin + 3); i++) {
      if (power[i] > power[bin]) {
        return false;
      }
    }
    return power[bin] > 0;
  }

  /**
   * Chance of so much power beside the median of the neighbourhood, the peak itself left out.
   *
   * @param width bins that tell the same
   */
  private static double chance(double[] power, int bin, double width) {
    int reach = Math.min(NEIGHBOURS, bin / 2);
    int from = Math.max(1, bin - reach);
    int to = Math.min(power.length - 1, bin + reach);
    double[] around = new double[to - from + 1];
    int at = 0;
    for (int i = from; i <= to; i++) {
      if (Math.abs(i - bin) > 3) {
        around[at++] = power[i];
      }
    }
    double[] sorted = Arrays.copyOf(around, at);
    Arrays.sort(sorted);
    double times = power[bin] / sorted[at / 2];
    int independent = Math.max(1, (int) (at / width));
    double chance = 1;
    for (int i = 0; i <= independent / 2; i++) {
      chance *= (independent - i) / (independent - i + times);
    }
    return chance;
  }

  private static Periodic sine(
      double[] windowed,
      double[] power,
      int bin,
      int size,
      double variance,
      OptionalDouble secondsPerSample) {
    double left = Math.log(Math.max(power[bin - 1], Double.MIN_NORMAL));
    double middle = Math.log(power[bin]);
    double right = Math.log(Math.max(power[bin + 1], Double.MIN_NORMAL));
    double bend = left - 2 * middle + right;
    double shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, 0.5 * (left - right) / bend)) : 0;
    double frequency = (bin + shift) / size;
    double re = 0;
    double im = 0;
    for (int i = 0; i < windowed.length; i++) {
      double angle = 2 * Math.PI * frequency * i;
      re += windowed[i] * Math.cos(angle);
      im -= windowed[i] * Math.sin(angle);
    }
    // the window's sum is n/2, and a sine's power stands half at its negative frequency
    double amplitude = 4 * Math.hypot(re, im) / windowed.length;
    OptionalDouble hertz =
        secondsPerSample.isPresent()
            ? OptionalDouble.of(frequency / secondsPerSample.getAsDouble())
            : OptionalDouble.empty();
    double share = Math.min(1, amplitude * amplitude / 2 / variance);
    return new Periodic(
        frequency, hertz, amplitude, share, mains(frequency, windowed.length, secondsPerSample));
  }

  /** Which of the mains' frequencies would show at this one. */
  private static String mains(double frequency, int n, OptionalDouble secondsPerSample) {
    if (secondsPerSample.isEmpty()) {
      return "";
    }
    double step = secondsPerSample.getAsDouble();
    for (double mains : MAINS) {
      double cycles = mains * step;
      double folded = Math.abs(cycles - Math.rint(cycles));
      // mains wander by some 0.2 %, and clocks of boards by a few per cent of their rate
      double tolerance = 2.0 / n + 0.004 * cycles;
      if (tolerance < 0.05 && Math.abs(folded - frequency) <= tolerance) {
        return (int) mains + (cycles <= 0.5 ? " Hz" : " Hz, folded");
      }
    }
    return "";
  }
}
