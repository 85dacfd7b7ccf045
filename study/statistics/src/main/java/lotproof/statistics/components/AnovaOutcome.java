package lotproof.statistics.components;

/** Result of a balanced analysis of variance, or the reason why the layout has none. */
public sealed interface AnovaOutcome permits BalancedAnova, NotEstimable {}
