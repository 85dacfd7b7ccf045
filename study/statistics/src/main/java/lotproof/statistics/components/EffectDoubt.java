package lotproof.statistics.components;

/** Why the interval of an effect is wider than the model alone would have it. */
public enum EffectDoubt {
  /** It is not. */
  NONE,
  /** Successive residuals are alike. */
  MEMORY,
  /** The effect differs between units. */
  UNITS
}
