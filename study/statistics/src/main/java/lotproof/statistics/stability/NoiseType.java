package lotproof.statistics.stability;

/**
 * The kinds of noise in readings, by the power law f^alpha of their spectrum. In the words of
 * clocks, readings take the place of frequency.
 */
public enum NoiseType {
  /** Alpha 2: successive differences of white noise, such as quantisation of a sum. */
  DIFFERENCED_WHITE(2),
  /** Alpha 1: successive differences of flicker. */
  DIFFERENCED_FLICKER(1),
  /** Alpha 0: independent readings. Averaging helps with the square root of the number. */
  WHITE(0),
  /** Alpha -1: the 1/f noise of bridges and amplifiers. Averaging stops helping. */
  FLICKER(-1),
  /** Alpha -2: steps that add up, such as warming. Averaging longer makes it worse. */
  RANDOM_WALK(-2);

  private final int alpha;

  NoiseType(int alpha) {
    this.alpha = alpha;
  }

  /** The power of frequency in the spectrum. */
  public int alpha() {
    return alpha;
  }

  static NoiseType nearest(double power) {
    int rounded = (int) Math.max(-2, Math.min(2, Math.rint(power)));
    return values()[2 - rounded];
  }
}
