package lotproof.demo;

/**
 * What makes one cell differ from the next in the physical model. Fractions are of the output at
 * capacity.
 */
public enum CellTrait {
  /** Natural logarithm of sensitivity over nominal sensitivity, at capacity and 20 °C. */
  LOG_SENSITIVITY("log sensitivity over nominal", "1"),
  /** Output without load at 20 °C. */
  ZERO("zero", "mV/V"),
  /** Height of the parabola over the terminal line, at half capacity. */
  BOW("bow", "fraction of capacity"),
  /** Height of the S-shaped (cubic) part over the terminal line. */
  CUBIC("cubic bow", "fraction of capacity"),
  /** Falling minus rising output at half of the largest load. */
  HYSTERESIS("hysteresis", "fraction of capacity"),
  /** Output that builds up under lasting load, at capacity, after a long time. */
  CREEP("creep", "fraction of capacity"),
  /** Relative change of sensitivity per kelvin. */
  SENSITIVITY_PER_KELVIN("temperature coefficient of sensitivity", "1/K"),
  /** Change of zero per kelvin. */
  ZERO_PER_KELVIN("temperature coefficient of zero", "mV/V/K"),
  /** Natural logarithm of the sample noise in mV/V. */
  LOG_NOISE("log noise", "ln(mV/V)");

  private final String key;
  private final String unit;

  CellTrait(String key, String unit) {
    this.key = key;
    this.unit = unit;
  }

  /** The name used in truth files. */
  public String key() {
    return key;
  }

  @Override
  public String toString() {
    return key + " [" + unit + "]";
  }
}
