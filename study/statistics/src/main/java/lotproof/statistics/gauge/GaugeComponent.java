package lotproof.statistics.gauge;

/**
 * A component of variance as the mean squares give it.
 *
 * @param rawVariance the difference of mean squares; negative values occur by chance and are shown
 */
public record GaugeComponent(double rawVariance) {

  /** The variance used further: the raw one, or zero where that is negative. */
  public double variance() {
    return Math.max(0, rawVariance);
  }

  /** The standard deviation belonging to {@link #variance()}. */
  public double sd() {
    return Math.sqrt(variance());
  }

  /** Whether the estimate stands at the boundary, which does not show that the effect is absent. */
  public boolean atZero() {
    return rawVariance <= 0;
  }
}
