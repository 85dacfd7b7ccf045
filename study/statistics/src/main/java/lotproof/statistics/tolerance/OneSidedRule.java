package lotproof.statistics.tolerance;

/** Success, failure and slope of a one-sided limit by one way of integrating. */
interface OneSidedRule {
  /** The chance that mean + k s lies below the content quantile. */
  double failure(double factor);

  /** The chance that mean + k s lies at or above the content quantile. */
  double success(double factor);

  /** The derivative of the success by the factor. */
  double slope(double factor);
}
