package lotproof.reduce.capture;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What the samples alone do not say.
 *
 * @param fullScale range of the converter in the units of the samples, for bits
 * @param rails codes that the converter gives when it is overdriven
 * @param samplesPerSecond rate of a capture without clock
 * @param confidence of intervals
 */
public record NoiseOptions(
    OptionalDouble fullScale,
    List<Double> rails,
    OptionalDouble samplesPerSecond,
    double confidence) {
  /** Ends of the usual widths, 16, 24 and 32 bit, with sign and without, 0 left out. */
  private static final List<Double> USUAL_RAILS =
      List.of(
          32_767.0,
          -32_768.0,
          65_535.0,
          8_388_607.0,
          -8_388_608.0,
          16_777_215.0,
          2_147_483_647.0,
          -2_147_483_648.0,
          4_294_967_295.0);

  /** Nothing is known; the ends of the usual widths count as overdriven. */
  public static final NoiseOptions DEFAULTS =
      new NoiseOptions(OptionalDouble.empty(), USUAL_RAILS, OptionalDouble.empty(), 0.95);

  public NoiseOptions {
    rails = List.copyOf(rails);
    if (!(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException("confidence must lie between 0 and 1, was " + confidence);
    }
    if (fullScale.isPresent() && !(fullScale.getAsDouble() > 0)) {
      throw new IllegalArgumentException(
          "full scale must be above 0, was " + fullScale.getAsDouble());
    }
  }

  /** For a converter of so many bits whose samples are counts. */
  public NoiseOptions ofBits(int bits, boolean fromZero) {
    double range = Math.pow(2, bits);
    List<Double> ends =
        fromZero ? List.of(0.0, range - 1) : List.of(-range / 2, range / 2 - 1, range - 1);
    return new NoiseOptions(OptionalDouble.of(range), ends, samplesPerSecond, confidence);
  }

  /** With a full scale of its own. */
  public NoiseOptions withFullScale(double range) {
    return new NoiseOptions(OptionalDouble.of(range), rails, samplesPerSecond, confidence);
  }
}
