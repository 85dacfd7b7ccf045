package lotproof.statistics.stability;

import lotproof.statistics.Checks;
import org.apache.commons.statistics.distribution.NormalDistribution;

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

  /** The effective number of bits, log2(full scale / (NAD sqrt(12))). */
  public static double effectiveNumberOfBits(double fullScale, double noiseAndDistortion) {
    return log2(
        Checks.positive(fullScale, "fullScale")
            / (Checks.positive(noiseAndDistortion, "noiseAndDistortion") * Math.sqrt(12)));
  }

  /**
   * The effective number of bits from a ratio of signal to noise and distortion measured with a
   * sine below full scale: (SINAD - 10 log10(1.5) + 20 log10((full scale / 2)/A)) / (20 log10(2)).
   */
  public static double effectiveNumberOfBitsFromSinad(
      double sinadDecibel, double fullScale, double amplitude) {
    Checks.finite(sinadDecibel, "sinadDecibel");
    double head =
        Checks.positive(fullScale, "fullScale") / (2 * Checks.positive(amplitude, "amplitude"));
    return (sinadDecibel - 10 * Math.log10(1.5) + 20 * Math.log10(head)) / (20 * Math.log10(2));
  }

  /** The signal-to-noise ratio of an ideal converter with a full-scale sine, 6.02 N + 1.76 dB. */
  public static double idealSignalToNoiseDecibel(int bits) {
    Checks.atLeast(bits, 1, "bits");
    return 20 * Math.log10(2) * bits + 10 * Math.log10(1.5);
  }

  /** The share of normal noise within a peak-to-peak width of so many standard deviations. */
  public static double shareWithin(double peakToPeakInSds) {
    double half = Checks.notNegative(peakToPeakInSds, "peakToPeakInSds") / 2;
    return 1 - 2 * NormalDistribution.of(0, 1).survivalProbability(half);
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }
}
