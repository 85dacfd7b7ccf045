package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.List;
import lotproof.reduce.capture.CaptureNoise.Found;
import lotproof.reduce.capture.CaptureNoise.Glitch;
import lotproof.reduce.capture.CaptureNoise.GlitchKind;

/**
 * Finds single samples far off the middle of their neighbours, and puts that middle in their place.
 *
 * <p>A sample is judged when the next one is there, so what comes out lags by one behind what goes
 * in. A construction.
 */
final class GlitchFilter {
  private static final int SHOWN = 20;
  private static final double GLITCH_SDS = 8;
  private static final double BIT_SLIP_SDS = 32;

  private final double noise;
  private final double limit;
  private final Sink sink;
  private final List<Glitch> first = new ArrayList<>();
  private long count;
  private long seen;
  private double before;
  private double middle;
  private long middleLine;

  /** Takes what comes out of the filter. */
  interface Sink {
    /** Takes a sample, as measured and as mended; they differ for a glitch alone. */
    void take(long line, double measured, double mended);
  }

  /**
   * A filter.
   *
   * @param noise standard deviation of the samples
   * @param smallestStep between two codes; without one, at 0, there are no glitches
   */
  GlitchFilter(double noise, double smallestStep, Sink sink) {
    this.noise = noise;
    this.limit =
        smallestStep > 0
            ? Math.max(GLITCH_SDS * noise, 4 * smallestStep)
            : Double.POSITIVE_INFINITY;
    this.sink = sink;
  }

  void add(long line, double value) {
    if (seen++ > 0) {
      judge(value);
    }
    middle = value;
    middleLine = line;
  }

  /** Judges the sample in the middle of three; {@code before} is that before it, mended. */
  private void judge(double after) {
    double expected = (before + after) / 2;
    double off = Math.abs(middle - expected);
    boolean glitch = off > limit && seen > 2 && Math.abs(after - before) < off / 2;
    if (glitch && ++count <= SHOWN) {
      first.add(new Glitch(kind(off, expected), middleLine, middle, expected));
    }
    before = glitch ? expected : middle;
    sink.take(middleLine, middle, before);
  }

  /** Lets the last sample out, which has no next one. */
  void end() {
    if (seen > 0) {
      sink.take(middleLine, middle, middle);
    }
  }

  private GlitchKind kind(double size, double expected) {
    double tolerance = Math.max(3 * noise, 1);
    double nearest = Math.pow(2, Math.rint(Math.log(size) / Math.log(2)));
    if (nearest >= 32 && size >= BIT_SLIP_SDS * noise && Math.abs(size - nearest) <= tolerance) {
      return GlitchKind.BIT_SLIP;
    }
    boolean doubled = Math.abs(middle - 2 * expected) <= 2 * tolerance + 1;
    boolean halved = Math.abs(middle - expected / 2) <= tolerance + 1;
    return doubled || halved ? GlitchKind.SHIFTED_BIT : GlitchKind.SPIKE;
  }

  Found<Glitch> found() {
    return new Found<>(count, first);
  }
}
