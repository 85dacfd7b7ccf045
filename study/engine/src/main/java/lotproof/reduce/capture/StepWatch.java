package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.List;
import lotproof.reduce.capture.CaptureNoise.Found;
import lotproof.reduce.capture.CaptureNoise.Step;

/**
 * Finds sudden lasting changes of level: the mean of sixteen samples differs from that of the
 * sixteen before by more than a threshold, and half of the window shows at least three quarters of
 * it, which a slope or slow noise does not do. A construction.
 */
final class StepWatch {
  static final int HALF = 16;
  private static final int WHOLE = 2 * HALF;
  private static final int MASK = WHOLE - 1;
  private static final int SHOWN = 20;
  private static final double ABRUPT = 0.75;

  private final double threshold;
  private final double usual;
  private final double[] ring = new double[WHOLE];
  private final long[] lines = new long[WHOLE];
  private final List<Step> first = new ArrayList<>();
  private long seen;
  private long count;
  private double older;
  private double newer;
  private double best;
  private long bestLine;

  StepWatch(double threshold, double usual) {
    this.threshold = threshold;
    this.usual = usual;
  }

  void add(long line, double value) {
    int at = (int) (seen & MASK);
    if (seen >= HALF) {
      double middle = ring[(int) ((seen - HALF) & MASK)];
      newer -= middle;
      older += middle;
    }
    if (seen >= WHOLE) {
      older -= ring[at];
    }
    ring[at] = value;
    lines[at] = line;
    newer += value;
    seen++;
    if (seen >= WHOLE) {
      judge((newer - older) / HALF - usual);
    }
    if ((seen & 0xffff) == 0 && seen >= WHOLE) {
      sumAnew();
    }
  }

  private void judge(double change) {
    if (Math.abs(change) > threshold && Math.abs(change) > Math.abs(best)) {
      double inner = inner() - usual / 2;
      if (inner / change >= ABRUPT) {
        best = change;
        bestLine = lines[(int) ((seen - HALF) & MASK)];
      }
    } else if (best != 0 && !(Math.abs(change) > threshold)) {
      release();
    }
  }

  private void release() {
    count++;
    if (first.size() < SHOWN) {
      first.add(new Step(bestLine, best));
    }
    best = 0;
  }

  private double inner() {
    int quarter = HALF / 2;
    double before = 0;
    double after = 0;
    for (int i = 1; i <= quarter; i++) {
      before += ring[(int) ((seen - HALF - i) & MASK)];
      after += ring[(int) ((seen - HALF - 1 + i) & MASK)];
    }
    return (after - before) / quarter;
  }

  /** Running sums gather rounding; now and then they are taken anew. */
  private void sumAnew() {
    older = 0;
    newer = 0;
    for (int i = 1; i <= HALF; i++) {
      newer += ring[(int) ((seen - i) & MASK)];
      older += ring[(int) ((seen - HALF - i) & MASK)];
    }
  }

  Found<Step> found() {
    if (best != 0) {
      release();
    }
    return new Found<>(count, first);
  }
}
