package lotproof.statistics.stability;

import lotproof.statistics.Checks;

/**
 * What noise leaves of a converter's range. The terms are alike and the numbers are not, so each
 * states its definition.
 *
 * <ul>
 *   <li>effective resolution = log2(full scale / rms noise);
 *   <li>noise-free resolution = log2(full scale / (6.6 rms noise)), 2.72 bits less: 6.6 standard
 *       deviations hold 99.90 % of normal noise (a known note states 99.99 %, which is wrong);
 *   <li>effective number of bits = log2(full scale / (NAD sqrt(12))): noise and distortion set
 *       equal to the rounding error of an ideal converter, so it compares with a number of bits.
 * </ul>
 *
 * <p>Noise is the root mean square about the mean in the units of the full scale. Flicker and drift
 * make it grow with the length of the record, so a figure names its record and its data rate.
 *
 * <p>Sources: Analog Devices AN-615; Maxim application note 5384 (2012); IEEE 1241 and 1057 for NAD
 * (definitions from memory).
 */
public final class Resolution {
  /** The customary peak-to-peak width of normal noise in standard deviations. */
  public static final double PEAK_TO_PEAK = 6.6;

  private Resolution() {}

  /** log2(full scale / rms). */
  public static double effectiveBits(double fullScale, double rms) {
    return log2(Checks.positive(fullScale, "fullScale") / Checks.positive(rms, "rms"));
  }

  /** log2(full scale / (6.6 rms)). */
  public static double noiseFreeBits(double fullScale, double rms) {
    return log2(noiseFreeCounts(fullScale, rms));
  }

  /** span / (6.6 rms): how many steps of the span stand clear of the noise. */
  public static double noiseFreeCounts(double span, double rms) {
    return Checks.positive(span, "span") / (PEAK_TO_PEAK * Checks.positive(rms, "rms"));
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }
}
