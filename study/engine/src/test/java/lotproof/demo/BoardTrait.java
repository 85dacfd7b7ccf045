package lotproof.demo;

/** What makes one board differ from the next in the physical model. */
public enum BoardTrait {
  /** Natural logarithm of gain over nominal gain at 20 °C. */
  LOG_GAIN("log gain over nominal", "1"),
  /** Output for a balanced bridge at 20 °C. */
  OFFSET("offset", "mV/V"),
  /** Largest distance of the transfer curve from its straight line. */
  INL("integral non-linearity", "fraction of full scale"),
  /** Relative change of gain per kelvin. */
  GAIN_PER_KELVIN("temperature coefficient of gain", "1/K"),
  /** Change of offset per kelvin. */
  OFFSET_PER_KELVIN("temperature coefficient of offset", "mV/V/K"),
  /** Natural logarithm of the sample noise in mV/V. */
  LOG_NOISE("log noise", "ln(mV/V)"),
  /** Share of the samples that carry news; 1 for white noise, less when the noise is slow. */
  INDEPENDENT_SAMPLES("independent samples", "fraction");

  private final String key;
  private final String unit;

  BoardTrait(String key, String unit) {
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
