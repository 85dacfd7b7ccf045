package lotproof.statistics.components;

/** What the fit makes as large as possible. */
public enum Criterion {
  /** Likelihood of the differences that do not depend on the mean; the default for components. */
  REML,
  /** Full likelihood, which takes the mean as known and so shrinks the components a little. */
  ML
}
