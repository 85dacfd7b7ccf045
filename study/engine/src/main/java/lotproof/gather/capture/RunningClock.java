package lotproof.gather.capture;

import java.util.ArrayList;
import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * A clock without its wraps.
 *
 * <p>A counter of stated width wraps whenever it goes back. Without a stated width a step back is a
 * wrap only when it fits one beyond doubt: the clock stood close before 2^16 or 2^32 and the step
 * over the end is as long as those before, within half. Every other step back is an issue.
 */
final class RunningClock {
  private static final int SHOWN = 5;
  private static final double DAY_SECONDS = 86_400;
  private static final double[] KNOWN_ENDS = {65_536, 4_294_967_296.0};

  private final String file;
  private final boolean timeOfDay;
  private final double unitSeconds;
  private final double statedEnd;
  private final List<DataIssue> issues = new ArrayList<>();
  private double offset;
  private double last;
  private double typicalStep;
  private long seen;
  private long wraps;
  private long backwards;

  RunningClock(String file, CaptureLayout layout, CaptureFormat format) {
    this.file = file;
    this.timeOfDay = layout.terminalTime();
    this.unitSeconds = timeOfDay ? 1 : layout.clock().seconds();
    this.statedEnd = timeOfDay ? 0 : format.clockBits().stream().mapToDouble(b -> 1L << b).sum();
  }

  long wraps() {
    return wraps;
  }

  /** Where the clock runs backwards. */
  List<DataIssue> issues() {
    if (backwards > SHOWN) {
      warn(0, "the clock runs backwards in " + backwards + " places in all");
    }
    return issues;
  }

  private void warn(long line, String message) {
    int at = (int) Math.min(line, Integer.MAX_VALUE);
    issues.add(DataIssue.warning(Code.CLOCK_TROUBLE, file, at, "", "", message));
  }

  /** Whether a reading is possible for a counter of the stated width. */
  boolean possible(double reading) {
    return statedEnd == 0 || (reading >= 0 && reading < statedEnd);
  }

  /** Seconds of a reading of the clock, counted from the clock's own zero. */
  double seconds(long line, double reading) {
    double step = reading - last;
    if (seen++ > 0 && step < 0) {
      double end = end(reading);
      wraps += end > 0 ? 1 : 0;
      offset += end;
      step += end;
      if (end == 0 && ++backwards <= SHOWN) {
        String hint = timeOfDay ? "" : "; if it is a counter that wraps, give --clock-bits";
        warn(line, "the clock goes back from " + last + " to " + reading + hint);
      }
    }
    if (seen > 1 && step > 0) {
      typicalStep = typicalStep == 0 ? step : typicalStep + (step - typicalStep) / 16;
    }
    last = reading;
    return (reading + offset) * unitSeconds;
  }

  /** What a clock that goes back to this reading counted up to; 0 when it did not wrap. */
  private double end(double reading) {
    if (timeOfDay) {
      return last > DAY_SECONDS - 3600 && reading < 3600 ? DAY_SECONDS : 0;
    }
    if (statedEnd > 0) {
      return statedEnd;
    }
    for (double end : KNOWN_ENDS) {
      double over = reading + end - last;
      boolean fits = over > 0 && typicalStep > 0 && Math.abs(over - typicalStep) <= typicalStep / 2;
      if (last < end && fits) {
        return end;
      }
    }
    return 0;
  }
}
