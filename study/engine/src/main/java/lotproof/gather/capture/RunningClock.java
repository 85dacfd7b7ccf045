package lotproof.gather.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
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
  private final double unitSeconds;
  private final boolean timeOfDay;
  private final double statedEnd;
  private final List<DataIssue> issues = new ArrayList<>();
  private double offset;
  private double last;
  private double typicalStep;
  private long seen;
  private long wraps;
  private long backwards;

  RunningClock(String file, double unitSeconds, boolean timeOfDay, OptionalInt bits) {
    this.file = file;
    this.unitSeconds = unitSeconds;
    this.timeOfDay = timeOfDay;
    this.statedEnd = bits.isPresent() && !timeOfDay ? Math.pow(2, bits.getAsInt()) : 0;
  }

  long wraps() {
    return wraps;
  }

  List<DataIssue> issues() {
    List<DataIssue> all = new ArrayList<>(issues);
    if (backwards > SHOWN) {
      String message = "the clock runs backwards in " + backwards + " places in all";
      all.add(DataIssue.warning(Code.CLOCK_TROUBLE, file, 0, "", "", message));
    }
    return all;
  }

  /** Whether a reading is possible for a counter of the stated width. */
  boolean possible(double reading) {
    return statedEnd == 0 || (reading >= 0 && reading < statedEnd);
  }

  /** Seconds of a reading of the clock, counted from the clock's own zero. */
  double seconds(long line, double reading) {
    if (seen++ > 0) {
      double step = reading - last;
      if (step < 0) {
        step = back(line, reading, step);
      }
      if (step > 0) {
        typicalStep = typicalStep == 0 ? step : typicalStep + (step - typicalStep) / 16;
      }
    }
    last = reading;
    return (reading + offset) * unitSeconds;
  }

  /** A step back: the true step over the end of the counter, or the step as it is. */
  private double back(long line, double reading, double step) {
    double end = end(reading);
    if (end > 0) {
      offset += end;
      wraps++;
      return step + end;
    }
    backwards++;
    if (backwards <= SHOWN) {
      String hint = timeOfDay ? "" : "; if it is a counter that wraps, give --clock-bits";
      issues.add(
          DataIssue.warning(
              Code.CLOCK_TROUBLE,
              file,
              (int) Math.min(line, Integer.MAX_VALUE),
              "",
              "",
              "the clock goes back from " + last + " to " + reading + hint));
    }
    return 0;
  }

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
