package lotproof.gather.tables;

/** How a file writes numbers. */
public enum NumberStyle {
  /** As text with a decimal point. */
  DECIMAL_POINT,
  /** As text with a decimal point or a decimal comma, the same in the whole file. */
  POINT_OR_COMMA,
  /** As numbers of their own; a number that is text is unusual. */
  TYPED
}
