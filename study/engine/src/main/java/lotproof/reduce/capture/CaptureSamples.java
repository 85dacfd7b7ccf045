package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.capture.CaptureNoise.BitsLeft;
import lotproof.reduce.capture.CaptureNoise.Drift;
import lotproof.reduce.capture.CaptureNoise.Faults;
import lotproof.reduce.capture.CaptureNoise.Found;
import lotproof.reduce.capture.CaptureNoise.Gap;
import lotproof.reduce.capture.CaptureNoise.Moments;
import lotproof.reduce.capture.CaptureNoise.Saturation;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.stability.Resolution;
import lotproof.statistics.stability.StabilityStream;

/**
 * Takes the samples of one capture as they come, and says in the end what they show. Memory stays
 * bounded however long the capture is: the first 2^18 samples wait until the noise is known, then
 * everything is summed as it goes by.
 */
public final class CaptureSamples {
  private static final int FIRST = 1 << 18;
  private static final int JUDGED = 1 << 16;
  private static final int BATCH = 1 << 11;
  private static final double STEP_SDS = 6.5;
  private static final int TREND_POINTS = 2000;

  private final NoiseOptions options;
  private final boolean clocked;
  private final StepClock clock = new StepClock();
  private final StabilityStream stability = new StabilityStream();
  private final Trace trace = new Trace();
  private final List<Saturation> rails = new ArrayList<>();
  private double[] waiting = new double[512];
  private long[] waitingLines = new long[512];
  private int waitingCount;
  private double[] clean = new double[512];
  private int cleanCount;
  private boolean calibrated;
  private RunningMoments all = new RunningMoments(0);
  private RunningMoments good = new RunningMoments(0);
  private EqualRuns equalRuns = new EqualRuns(0);
  private GlitchFilter glitches = new GlitchFilter(0, 0);
  private StepWatch steps = new StepWatch(Double.POSITIVE_INFINITY, 0);
  private double noise;
  private double smallestStep;
  private double[] railCodes = new double[0];
  private long[] railCounts = new long[0];
  private long[] railLines = new long[0];

  /** For samples with or without a clock. */
  public CaptureSamples(NoiseOptions options, boolean clocked) {
    this.options = options;
    this.clocked = clocked;
  }

  /**
   * Takes the next sample.
   *
   * @param line line of the file
   * @param seconds its time; anything without a clock
   * @param value finite
   */
  public void add(long line, double seconds, double value) {
    if (clocked) {
      clock.add(line, seconds);
    }
    waiting[waitingCount] = value;
    waitingLines[waitingCount++] = line;
    if (waitingCount == waiting.length) {
      full();
    }
  }

  private void full() {
    if (calibrated) {
      take();
    } else if (waitingCount == FIRST) {
      calibrate();
    } else {
      waiting = Arrays.copyOf(waiting, 2 * waitingCount);
      waitingLines = Arrays.copyOf(waitingLines, 2 * waitingCount);
    }
  }

  private void calibrate() {
    int n = Math.min(waitingCount, JUDGED);
    double[] changes = new double[Math.max(0, n - 1)];
    double smallest = Double.POSITIVE_INFINITY;
    for (int i = 0; i < changes.length; i++) {
      changes[i] = Math.abs(waiting[i + 1] - waiting[i]);
      smallest = changes[i] > 0 ? Math.min(smallest, changes[i]) : smallest;
    }
    Arrays.sort(changes);
    smallestStep = Double.isFinite(smallest) ? smallest : 0;
    double median = changes.length == 0 ? 0 : changes[changes.length / 2];
    noise = Math.max(1.4826 * median / Math.sqrt(2), smallestStep / 2);
    all = new RunningMoments(origin(n));
    good = new RunningMoments(origin(n));
    equalRuns = new EqualRuns(EqualRuns.shareOfEqualNeighbours(waiting, n));
    glitches = new GlitchFilter(noise, smallestStep);
    steps = stepWatch(n);
    railCodes = options.rails().stream().mapToDouble(r -> r).toArray();
    railCounts = new long[railCodes.length];
    railLines = new long[railCodes.length];
    calibrated = true;
    take();
    waiting = new double[BATCH];
    waitingLines = new long[BATCH];
  }

  private double origin(int n) {
    double[] sorted = Arrays.copyOf(waiting, n);
    Arrays.sort(sorted);
    return n == 0 ? 0 : sorted[n / 2];
  }

  /** The threshold follows the usual change from one stretch to the next, whatever its kind. */
  private StepWatch stepWatch(int n) {
    int stretches = n / StepWatch.HALF;
    if (stretches < 4 || !(noise > 0)) {
      return new StepWatch(Double.POSITIVE_INFINITY, 0);
    }
    double[] change = new double[stretches - 1];
    double last = medianOfStretch(0);
    for (int i = 1; i < stretches; i++) {
      double next = medianOfStretch(i);
      change[i - 1] = next - last;
      last = next;
    }
    double[] sorted = change.clone();
    Arrays.sort(sorted);
    double usual = sorted[sorted.length / 2];
    for (int i = 0; i < change.length; i++) {
      change[i] = Math.abs(change[i] - usual);
    }
    Arrays.sort(change);
    double spread = 1.4826 * change[change.length / 2];
    double white = noise * Math.sqrt(2.0 / StepWatch.HALF);
    return new StepWatch(STEP_SDS * Math.max(white, spread), usual);
  }

  private double medianOfStretch(int stretch) {
    int from = stretch * StepWatch.HALF;
    double[] part = Arrays.copyOfRange(waiting, from, from + StepWatch.HALF);
    Arrays.sort(part);
    return (part[StepWatch.HALF / 2 - 1] + part[StepWatch.HALF / 2]) / 2;
  }

  /** Sums up what waits. In tight loops, one for each thing: a capture has millions of samples. */
  private void take() {
    all.add(waiting, waitingCount);
    trace.add(waiting, waitingCount);
    equalRuns.add(waitingLines, waiting, waitingCount);
    for (int rail = 0; rail < railCodes.length; rail++) {
      for (int i = 0; i < waitingCount; i++) {
        if (waiting[i] == railCodes[rail] && railCounts[rail]++ == 0) {
          railLines[rail] = waitingLines[i];
        }
      }
    }
    glitches.take(waitingLines, waiting, waitingCount);
    waitingCount = 0;
    takeMended();
  }

  private void takeMended() {
    double[] mended = glitches.mended();
    int n = glitches.mendedCount();
    good.add(glitches.good(), glitches.goodCount());
    stability.add(mended, n);
    steps.add(glitches.mendedLines(), mended, n);
    int room = Math.min(n, Spectrum.MOST_SAMPLES - cleanCount);
    if (room > 0) {
      if (cleanCount + room > clean.length) {
        clean = Arrays.copyOf(clean, Math.max(2 * clean.length, cleanCount + room));
      }
      System.arraycopy(mended, 0, clean, cleanCount, room);
      cleanCount += room;
    }
  }

  /** What the samples show; call it once, after the last. */
  public CaptureNoise finish() {
    if (calibrated) {
      take();
    } else {
      calibrate();
    }
    glitches.end();
    takeMended();
    Moments samples = all.moments();
    Moments usable = good.moments();
    OptionalDouble step = clocked ? clock.secondsPerSample() : OptionalDouble.empty();
    if (step.isEmpty() && options.samplesPerSecond().isPresent()) {
      step = OptionalDouble.of(1 / options.samplesPerSecond().getAsDouble());
    }
    double variance = usable.sd() * usable.sd();
    return new CaptureNoise(
        samples,
        usable,
        stability.neighbourDeviation(),
        smallestStep > 0 ? OptionalDouble.of(smallestStep) : OptionalDouble.empty(),
        resolution(usable),
        step,
        stability.curve(step.orElse(1), options.confidence()),
        drift(),
        Spectrum.periodic(clean, cleanCount, variance, step),
        new Faults(
            glitches.found(),
            steps.found(),
            clocked ? clock.gaps() : new Found<Gap>(0, List.of()),
            saturation(samples),
            equalRuns.stuck()),
        trace.parts());
  }

  private Optional<BitsLeft> resolution(Moments moments) {
    if (options.fullScale().isEmpty() || !(moments.sd() > 0)) {
      return Optional.empty();
    }
    double range = options.fullScale().getAsDouble();
    return Optional.of(
        new BitsLeft(
            range,
            Resolution.effectiveBits(range, moments.sd()),
            Resolution.noiseFreeBits(range, moments.sd()),
            Math.log(range / moments.peakToPeak()) / Math.log(2)));
  }

  private Optional<Drift> drift() {
    double[] averages = stability.averages();
    int each = (averages.length + TREND_POINTS - 1) / TREND_POINTS;
    if (averages.length < 10) {
      return Optional.empty();
    }
    double[] points = new double[averages.length / each];
    for (int i = 0; i < points.length; i++) {
      for (int j = 0; j < each; j++) {
        points[i] += (averages[i * each + j] - averages[0]) / each;
      }
    }
    double last = points[points.length - 1];
    if (Arrays.stream(points).allMatch(p -> p == last)) {
      return Optional.empty();
    }
    Trend trend = Trend.of(points);
    if (!(trend.residualSd() > 0) || !(trend.adjustedStandardError() > 0)) {
      return Optional.empty();
    }
    double length = (double) each * stability.averageFactor();
    return Optional.of(
        new Drift(
            trend.slope() / length,
            trend.adjustedStandardError() / length,
            trend.adjustedPValue(),
            trend.slope() * points.length));
  }

  private Optional<Saturation> saturation(Moments samples) {
    rails.clear();
    for (int i = 0; i < railCodes.length; i++) {
      boolean outermost = railCodes[i] == samples.minimum() || railCodes[i] == samples.maximum();
      if (railCounts[i] > 0 && outermost) {
        rails.add(new Saturation(railCodes[i], railCounts[i], railLines[i]));
      }
    }
    return rails.stream().max(java.util.Comparator.comparingLong(Saturation::samples));
  }
}
