package lotproof.statistics.gauge;

/**
 * The readings cannot tell the components apart.
 *
 * @param reason one sentence that a bench engineer understands
 */
public record GaugeNotEstimable(String reason) implements GaugeOutcome {
  public GaugeNotEstimable {
    if (reason.isBlank()) {
      throw new IllegalArgumentException("reason must not be blank");
    }
  }
}
