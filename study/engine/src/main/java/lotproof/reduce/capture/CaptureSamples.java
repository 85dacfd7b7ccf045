package lotproof.reduce.capture;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.reduce.capture.CaptureNoise.BitsLeft;
import lotproof.reduce.capture.CaptureNoise.Drift;
import lotproof.reduce.capture.CaptureNoise.Faults;
import lotproof.reduce.capture.CaptureNoise.Found;
import lotproof.reduce.capture.CaptureNoise.Moments;
import lotproof.reduce.capture.CaptureNoise.Saturation;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.stability.Resolution;
import lotproof.statistics.stability.StabilityStream;
import lotproof.statistics.summary.Summary;

/**
 * Takes the samples of one capture as they come, and says in the end what they show. Memory stays
 * bounded however long the capture is: the first 2^18 samples wait until the noise is known, then
 * everything is summed as it goes by.
 */
public final class CaptureSamples {
  /** Of the intervals of the stability curve. */
  public static final double CONFIDENCE = 0.95;

  private static final int FIRST = 1 << 18;
  private static final int JUDGED = 1 << 16;
  private static final double STEP_SDS = 6.5;
  private static final int TREND_POINTS = 2000;
  private static final int LEAST_FOR_TREND = 10;

  private final StepClock clock = new StepClock();
  private final StabilityStream stability = new StabilityStream();
  private final Trace trace = new Trace();
  private boolean calibrated;
  private double[] waiting = new double[512];
  private long[] waitingLines = new long[512];
  private int waitingCount;
  private double smallestStep;
  private RunningMoments all = new RunningMoments(0);
  private RunningMoments good = new RunningMoments(0);
  private EqualRuns equalRuns = new EqualRuns(0);
  private GlitchFilter glitches = new GlitchFilter(0, 0, this::take);
  private StepWatch steps = new StepWatch(Double.POSITIVE_INFINITY, 0);
  private double[] clean = new double[512];
  private int cleanCount;

  /**
   * Takes the next sample.
   *
   * @param line line of the file
   * @param seconds its time; anything without a clock
   * @param value finite
   */
  public void add(long line, double seconds, double value) {
    clock.add(line, seconds);
    if (calibrated) {
      take(line, value);
      return;
    }
    if (waitingCount == waiting.length) {
      waiting = Arrays.copyOf(waiting, 2 * waitingCount);
      waitingLines = Arrays.copyOf(waitingLines, 2 * waitingCount);
    }
    waiting[waitingCount] = value;
    waitingLines[waitingCount++] = line;
    if (waitingCount == FIRST) {
      calibrate();
    }
  }

  private void take(long line, double value) {
    all.add(line, value);
    trace.add(value);
    equalRuns.add(line, value);
    glitches.add(line, value);
  }

  /** Takes a sample behind the filter of glitches. */
  private void take(long line, double measured, double mended) {
    if (measured == mended) {
      good.add(line, measured);
    }
    steps.add(line, mended);
    if (cleanCount < Spectrum.MOST_SAMPLES) {
      if (cleanCount == clean.length) {
        clean = Arrays.copyOf(clean, 2 * cleanCount);
      }
      clean[cleanCount++] = mended;
    }
    stability.add(mended);
  }

  private void calibrate() {
    int n = Math.min(waitingCount, JUDGED);
    double[] changes = new double[Math.max(0, n - 1)];
    for (int i = 0; i < changes.length; i++) {
      changes[i] = Math.abs(waiting[i + 1] - waiting[i]);
    }
    smallestStep = Arrays.stream(changes).filter(change -> change > 0).min().orElse(0);
    double noise = Math.max(1.4826 * middle(changes) / Math.sqrt(2), smallestStep / 2);
    double origin = middle(Arrays.copyOf(waiting, n));
    all = new RunningMoments(origin);
    good = new RunningMoments(origin);
    equalRuns = new EqualRuns(EqualRuns.shareOfEqualNeighbours(waiting, n));
    glitches = new GlitchFilter(noise, smallestStep, this::take);
    steps = stepWatch(n / StepWatch.HALF, noise);
    calibrated = true;
    for (int i = 0; i < waitingCount; i++) {
      take(waitingLines[i], waiting[i]);
    }
    waiting = new double[0];
    waitingLines = new long[0];
  }

  /** The upper median; 0 without values. */
  private static double middle(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted.length == 0 ? 0 : sorted[sorted.length / 2];
  }

  /** The threshold follows the usual change from one stretch to the next, whatever its kind. */
  private StepWatch stepWatch(int stretches, double noise) {
    if (stretches < 4 || !(noise > 0)) {
      return new StepWatch(Double.POSITIVE_INFINITY, 0);
    }
    double[] change = new double[stretches - 1];
    double last = medianOfStretch(0);
    for (int i = 0; i < change.length; i++) {
      double next = medianOfStretch(i + 1);
      change[i] = next - last;
      last = next;
    }
    double usual = middle(change);
    double spread = 1.4826 * middle(Arrays.stream(change).map(c -> Math.abs(c - usual)).toArray());
    double white = noise * Math.sqrt(2.0 / StepWatch.HALF);
    return new StepWatch(STEP_SDS * Math.max(white, spread), usual);
  }

  private double medianOfStretch(int stretch) {
    int from = stretch * StepWatch.HALF;
    return Summary.median(Arrays.copyOfRange(waiting, from, from + StepWatch.HALF));
  }

  /**
   * What the samples show; to be asked for once, after the last.
   *
   * @param clocked whether they came with their time
   * @param samplesPerSecond the rate as stated, which counts where the clock says nothing
   */
  public CaptureNoise finish(
      ConverterRange range, boolean clocked, OptionalDouble samplesPerSecond) {
    if (!calibrated) {
      calibrate();
    }
    glitches.end();
    Moments usable = good.moments();
    OptionalDouble step = clocked ? clock.secondsPerSample() : OptionalDouble.empty();
    if (step.isEmpty()) {
      step = samplesPerSecond.stream().map(rate -> 1 / rate).findFirst();
    }
    return new CaptureNoise(
        all.moments(),
        usable,
        stability.neighbourDeviation(),
        smallestStep > 0 ? OptionalDouble.of(smallestStep) : OptionalDouble.empty(),
        usable.sd() > 0
            ? range.fullScale().stream().mapToObj(all -> bits(all, usable)).findFirst()
            : Optional.empty(),
        step,
        stability.curve(step.orElse(1), CONFIDENCE),
        drift(),
        Spectrum.periodic(Arrays.copyOf(clean, cleanCount), usable.sd() * usable.sd(), step),
        new Faults(
            glitches.found(),
            steps.found(),
            clocked ? clock.gaps() : new Found<>(0, List.of()),
            saturation(range),
            equalRuns.stuck()));
  }

  /** Extremes of successive stretches of the samples so far, for a chart. */
  public List<Trace.Part> trace() {
    return trace.parts();
  }

  private static BitsLeft bits(double fullScale, Moments moments) {
    return new BitsLeft(
        fullScale,
        Resolution.effectiveBits(fullScale, moments.sd()),
        Resolution.noiseFreeBits(fullScale, moments.sd()),
        Math.log(fullScale / moments.peakToPeak()) / Math.log(2));
  }

  private Optional<Drift> drift() {
    double[] averages = stability.averages();
    if (averages.length < LEAST_FOR_TREND) {
      return Optional.empty();
    }
    int each = (averages.length + TREND_POINTS - 1) / TREND_POINTS;
    double[] points = new double[averages.length / each];
    for (int i = 0; i < points.length; i++) {
      for (int j = 0; j < each; j++) {
        points[i] += (averages[i * each + j] - averages[0]) / each;
      }
    }
    if (Arrays.stream(points).distinct().count() < 2) {
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

  private Optional<Saturation> saturation(ConverterRange range) {
    return Stream.of(all.lowest(), all.highest())
        .filter(end -> range.rails().contains(end.code()))
        .max(Comparator.comparingLong(Saturation::samples));
  }
}
