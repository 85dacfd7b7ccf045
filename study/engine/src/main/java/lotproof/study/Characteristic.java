package lotproof.study;

import java.util.Arrays;
import java.util.Optional;

/**
 * A property of a pair that is computed from one load run and whose spread over units is studied.
 */
public enum Characteristic {
  SENSITIVITY(
      "sensitivity",
      "Sensitivity",
      "mV/V",
      "slope of the reference line, scaled to rated capacity"),
  FACTOR("factor", "Factor", "counts/kg", "slope of the reference line in converter counts"),
  ZERO("zero", "Zero", "mV/V", "output without load at the start of the run"),
  NON_LINEARITY(
      "non-linearity",
      "Non-linearity",
      "% of capacity",
      "largest signed distance of the rising readings from the reference line"),
  HYSTERESIS(
      "hysteresis",
      "Hysteresis",
      "% of capacity",
      "largest signed difference between falling and rising readings at the same load"),
  ZERO_RETURN(
      "zero-return", "Zero return", "g", "output without load at the end minus that at the start"),
  NOISE("noise", "Noise", "g", "root mean square of the sample noise over the run");

  private final String key;
  private final String title;
  private final String unit;
  private final String definition;

  Characteristic(String key, String title, String unit, String definition) {
    this.key = key;
    this.title = title;
    this.unit = unit;
    this.definition = definition;
  }

  /** The name used in study.yaml and in every output file. */
  public String key() {
    return key;
  }

  /** The name shown to people. */
  public String title() {
    return title;
  }

  /** Unit of measure of its values. */
  public String unit() {
    return unit;
  }

  /** What it is, in one line. */
  public String definition() {
    return definition;
  }

  /** The characteristic with this key, if there is one. */
  public static Optional<Characteristic> ofKey(String key) {
    return Arrays.stream(values()).filter(c -> c.key.equals(key)).findFirst();
  }
}
