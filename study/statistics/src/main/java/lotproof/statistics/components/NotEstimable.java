package lotproof.statistics.components;

/**
 * The data cannot answer the question.
 *
 * @param reason one sentence that a bench engineer understands
 */
public record NotEstimable(String reason) implements FitOutcome, CurveOutcome {
  public NotEstimable {
    if (reason.isBlank()) {
      throw new IllegalArgumentException("reason must not be blank");
    }
  }
}
