package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.List;

/** Extremes of at most a thousand stretches, which grow longer as samples come. */
public final class Trace {
  private static final int MOST = 1024;

  /** The smallest and the largest of a stretch; its first sample is counted from 0. */
  public record Part(long firstSample, long samples, double minimum, double maximum) {}

  private final double[] low = new double[MOST];
  private final double[] high = new double[MOST];
  private long length = 1;
  private int full;
  private long inPart;
  private long count;

  void add(double value) {
    low[full] = inPart == 0 ? value : Math.min(low[full], value);
    high[full] = inPart == 0 ? value : Math.max(high[full], value);
    count++;
    if (++inPart == length) {
      inPart = 0;
      if (++full == MOST) {
        halve();
      }
    }
  }

  private void halve() {
    for (int i = 0; i < MOST / 2; i++) {
      low[i] = Math.min(low[2 * i], low[2 * i + 1]);
      high[i] = Math.max(high[2 * i], high[2 * i + 1]);
    }
    full = MOST / 2;
    length *= 2;
  }

  List<Part> parts() {
    List<Part> parts = new ArrayList<>();
    int last = inPart > 0 ? full + 1 : full;
    for (int i = 0; i < last; i++) {
      long from = i * length;
      parts.add(new Part(from, Math.min(length, count - from), low[i], high[i]));
    }
    return parts;
  }
}
