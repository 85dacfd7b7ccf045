package lotproof.report.model;

/** A piece of a sentence. */
public sealed interface Span permits Span.Words, Quantity {

  /**
   * Words as they are. Never markup: writers escape them.
   *
   * @param text the words
   */
  record Words(String text) implements Span {}
}
