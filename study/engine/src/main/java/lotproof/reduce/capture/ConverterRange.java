package lotproof.reduce.capture;

import java.util.List;
import java.util.OptionalDouble;

/**
 * The range of a converter, in the units of its samples.
 *
 * @param fullScale all of it, above 0, for bits; empty when it is not known
 * @param rails codes that the converter gives when it is overdriven
 */
public record ConverterRange(OptionalDouble fullScale, List<Double> rails) {
  /** Only the ends of the usual widths, 16, 24 and 32 bit, with sign and without, 0 left out. */
  public static final ConverterRange UNKNOWN =
      new ConverterRange(
          OptionalDouble.empty(),
          List.of(
              32_767.0,
              -32_768.0,
              65_535.0,
              8_388_607.0,
              -8_388_608.0,
              16_777_215.0,
              2_147_483_647.0,
              -2_147_483_648.0,
              4_294_967_295.0));

  public ConverterRange {
    rails = List.copyOf(rails);
    if (fullScale.isPresent() && !(fullScale.getAsDouble() > 0)) {
      throw new IllegalArgumentException(
          "full scale must be above 0, was " + fullScale.getAsDouble());
    }
  }

  /** Of so many bits whose samples are counts. */
  public static ConverterRange ofBits(int bits, boolean fromZero) {
    double range = Math.pow(2, bits);
    return new ConverterRange(
        OptionalDouble.of(range),
        fromZero ? List.of(0.0, range - 1) : List.of(-range / 2, range / 2 - 1, range - 1));
  }
}
