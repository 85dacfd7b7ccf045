package lotproof.statistics.components;

/** Result of a fit: the components, those of curves, or a reason why the data cannot give them. */
public sealed interface FitOutcome permits ComponentsFit, CurveComponents, FitOutcome.NotEstimable {
  /**
   * The data cannot answer the question.
   *
   * @param reason one sentence that a bench engineer understands
   */
  record NotEstimable(String reason) implements FitOutcome {
    public NotEstimable {
      if (reason.isBlank()) {
        throw new IllegalArgumentException("reason must not be blank");
      }
    }
  }
}
