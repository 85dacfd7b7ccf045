package lotproof.statistics.gauge;

import lotproof.statistics.Checks;

/**
 * One reading of a gauge study.
 *
 * @param part the item that was measured
 * @param operator who, or which bench, measured it
 * @param value what was read
 */
public record GaugeReading(String part, String operator, double value) {
  public GaugeReading {
    if (part.isBlank() || operator.isBlank()) {
      throw new IllegalArgumentException("part and operator must not be blank");
    }
    Checks.finite(value, "value");
  }
}
