package lotproof.reduce.capture;

import java.util.Optional;
import lotproof.reduce.capture.CaptureNoise.Stuck;

/**
 * Runs of equal samples. A run is too long when noise as seen at the start would give one of its
 * length with a chance below 1e-9: with p the share of equal neighbours outside the longest run,
 * longer than ln(1e-9)/ln(p), and at least ten.
 */
final class EqualRuns {
  private static final double CHANCE = 1e-9;
  private static final int LEAST = 10;

  private final long limit;
  private double code;
  private long line;
  private long length;
  private long count;
  private long runs;
  private long longest;
  private double firstCode;
  private long firstLine;

  EqualRuns(double shareOfEqualNeighbours) {
    double p = Math.min(shareOfEqualNeighbours, 1 - 1e-9);
    this.limit = p > 0 ? (long) Math.max(LEAST, Math.ceil(Math.log(CHANCE) / Math.log(p))) : LEAST;
  }

  /** The share of equal neighbours outside the longest run. */
  static double shareOfEqualNeighbours(double[] samples, int count) {
    long equal = 0;
    long run = 0;
    long longest = 0;
    for (int i = 1; i < count; i++) {
      run = samples[i] == samples[i - 1] ? run + 1 : 0;
      equal += run > 0 ? 1 : 0;
      longest = Math.max(longest, run);
    }
    long others = count - 1 - longest;
    return others > 0 ? (double) (equal - longest) / others : 0;
  }

  void add(long at, double value) {
    if (count++ > 0 && value == code) {
      length++;
    } else {
      end();
      code = value;
      line = at;
      length = 1;
    }
  }

  private void end() {
    if (length > limit) {
      if (runs++ == 0) {
        firstCode = code;
        firstLine = line;
      }
      longest = Math.max(longest, length);
    }
    length = 0;
  }

  Optional<Stuck> stuck() {
    if (length == count && count >= LEAST) {
      return Optional.of(new Stuck(1, count, line, code, true));
    }
    end();
    return runs > 0
        ? Optional.of(new Stuck(runs, longest, firstLine, firstCode, false))
        : Optional.empty();
  }
}
