package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.capture.CaptureNoise.Found;
import lotproof.reduce.capture.CaptureNoise.Gap;

/**
 * Steps of the clock: the usual one, and gaps.
 *
 * <p>From the first 4096 steps: the clock is steady when 95 of 100 steps are at most 1.2 times the
 * median. A gap is a step longer than 1.5 medians of a steady clock; of an unsteady one (a terminal
 * that stamps lines as they arrive), longer than four medians and than twice the 99 % quantile. A
 * construction.
 */
final class StepClock {
  private static final int JUDGED = 4096;
  private static final int SHOWN = 20;

  private final double[] steps = new double[JUDGED];
  private final long[] lines = new long[JUDGED];
  private final List<Gap> first = new ArrayList<>();
  private int judged;
  private double threshold = Double.POSITIVE_INFINITY;
  private boolean ready;
  private double last;
  private long seen;
  private long regular;
  private double regularSeconds;
  private long gaps;

  void add(long line, double seconds) {
    if (seen++ > 0) {
      double step = seconds - last;
      if (ready) {
        judge(line, step);
      } else {
        steps[judged] = step;
        lines[judged++] = line;
        if (judged == JUDGED) {
          calibrate();
        }
      }
    }
    last = seconds;
  }

  private void calibrate() {
    double[] sorted = Arrays.copyOf(steps, judged);
    Arrays.sort(sorted);
    double median = sorted[judged / 2];
    boolean steady = sorted[(int) (0.95 * (judged - 1))] <= 1.2 * median;
    if (median > 0) {
      threshold =
          steady ? 1.5 * median : Math.max(4 * median, 2 * sorted[(int) (0.99 * (judged - 1))]);
    }
    ready = true;
    for (int i = 0; i < judged; i++) {
      judge(lines[i], steps[i]);
    }
  }

  private void judge(long line, double step) {
    if (step > threshold) {
      gaps++;
      if (first.size() < SHOWN) {
        first.add(new Gap(line, step));
      }
    } else {
      regular++;
      regularSeconds += step;
    }
  }

  Found<Gap> gaps() {
    if (!ready && judged > 0) {
      calibrate();
    }
    return new Found<>(gaps, first);
  }

  /** Mean step without gaps. */
  OptionalDouble secondsPerSample() {
    var unused = gaps();
    return regular > 0 && regularSeconds > 0
        ? OptionalDouble.of(regularSeconds / regular)
        : OptionalDouble.empty();
  }
}
