package lotproof.statistics.calibration;

import lotproof.statistics.Interval;

/** The load that belongs to an output, if the curve tells. */
public sealed interface InversePrediction {
  /**
   * The load, with the limits within which it lies with the stated confidence.
   *
   * @param load where the curve takes the output
   * @param limits where the prediction limits of one new reading take the output
   */
  record Found(double load, Interval limits) implements InversePrediction {}

  /**
   * No load, and why.
   *
   * @param reason in words
   */
  record NotFound(String reason) implements InversePrediction {}
}
