package lotproof.reduce.capture;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.stability.StabilityCurve;

/**
 * What the samples of one capture say, in their own units.
 *
 * <p>Single-sample glitches count in {@code all} and are left out of {@code good}; everything that
 * depends on the order of samples is computed with each glitch replaced by the mean of its
 * neighbours.
 *
 * @param all all samples
 * @param good samples without glitches
 * @param shortTermNoise sqrt(mean (y(i+1) - y(i))² / 2): the noise from one sample to the next,
 *     which drift does not touch
 * @param smallestStep smallest difference of unequal neighbours in the first samples; empty when
 *     all are equal
 * @param resolution bits left by noise; empty without a full scale or without noise
 * @param secondsPerSample mean step of the clock without gaps, or as stated; empty without either
 * @param stability Allan deviation; by samples where the step in seconds is not known
 * @param drift straight trend; empty where there is none to be computed
 * @param periodic sines that stand out of the noise, strongest first
 * @param faults what is wrong with single samples or stretches of them
 */
public record CaptureNoise(
    Moments all,
    Moments good,
    double shortTermNoise,
    OptionalDouble smallestStep,
    Optional<BitsLeft> resolution,
    OptionalDouble secondsPerSample,
    Optional<StabilityCurve> stability,
    Optional<Drift> drift,
    List<Periodic> periodic,
    Faults faults) {
  public CaptureNoise {
    periodic = List.copyOf(periodic);
  }

  /**
   * How many samples, their mean, their standard deviation with divisor n - 1 (the noise as root
   * mean square; 0 for one sample), the smallest and the largest.
   */
  public record Moments(long samples, double mean, double sd, double minimum, double maximum) {
    /** Largest less smallest: grows with the number of samples, so it is shown with it. */
    public double peakToPeak() {
      return maximum - minimum;
    }
  }

  /**
   * Bits that noise leaves of a full scale: effective ones log2(full scale / sd), noise-free ones
   * log2(full scale / (6.6 sd)), and noise-free ones by the observed peak to peak in place of 6.6
   * sd.
   */
  public record BitsLeft(
      double fullScale, double effective, double noiseFree, double noiseFreeObserved) {}

  /**
   * A straight trend: its slope, the standard error of the slope with the memory of the samples
   * taken into account, the two-sided chance of so steep a slope without drift, and slope times
   * length of the capture.
   */
  public record Drift(double perSample, double standardError, double pValue, double overall) {}

  /**
   * A sine in the samples.
   *
   * @param cyclesPerSample frequency as sampled, above 0 and up to 0.5
   * @param hertz the same in hertz, where the step is known
   * @param amplitude half of its peak to peak
   * @param shareOfVariance amplitude²/2 over the variance of the samples
   * @param mainsAlias 50 or 60 Hz or a multiple that would look like this, empty for none
   */
  public record Periodic(
      double cyclesPerSample,
      OptionalDouble hertz,
      double amplitude,
      double shareOfVariance,
      String mainsAlias) {}

  /** How many of a kind there were, and the first of them. */
  public record Found<T>(long count, List<T> first) {
    public Found {
      first = List.copyOf(first);
    }
  }

  /**
   * What is wrong with single samples or stretches of them.
   *
   * @param glitches single-sample glitches
   * @param steps sudden lasting changes of level
   * @param gaps places where the clock jumps ahead
   * @param saturation samples at a rail, if any
   * @param stuck runs of equal samples that noise would not give, if any
   */
  public record Faults(
      Found<Glitch> glitches,
      Found<Step> steps,
      Found<Gap> gaps,
      Optional<Saturation> saturation,
      Optional<Stuck> stuck) {
    /** Whether steps go up and down between levels, as popcorn noise does. */
    public boolean popcorn() {
      long up = steps.first().stream().filter(s -> s.size() > 0).count();
      long down = steps.first().stream().filter(s -> s.size() < 0).count();
      return steps.count() >= 4 && up >= 2 && down >= 2;
    }
  }

  /** Kinds of single-sample glitch. */
  public enum GlitchKind {
    /** Off by a power of two: one bit was read wrong. */
    BIT_SLIP,
    /** About twice or half of its neighbours: one clock pulse too many or too few. */
    SHIFTED_BIT,
    /** Off by anything else. */
    SPIKE
  }

  /** A sample far from both neighbours, which agree: its value, and the mean of its neighbours. */
  public record Glitch(GlitchKind kind, long line, double value, double expected) {}

  /** A sudden lasting change of level, by the means of sixteen samples before and after. */
  public record Step(long line, double size) {}

  /** A place where the clock jumps ahead: the line behind it, and how long the step is. */
  public record Gap(long line, double seconds) {}

  /** Samples at an end of the converter's range: the code, how many, and the first line. */
  public record Saturation(double code, long samples, long line) {}

  /**
   * Runs of equal samples that are too long for the noise: how many runs, the samples of the
   * longest, line and code of the first, and whether the whole capture is one run.
   */
  public record Stuck(long runs, long longest, long line, double code, boolean everySample) {}

  /** Length in seconds, where the step is known. */
  public OptionalDouble seconds() {
    return secondsPerSample.stream().map(step -> step * all.samples()).findFirst();
  }
}
