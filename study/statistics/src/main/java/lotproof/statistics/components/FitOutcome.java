package lotproof.statistics.components;

/** Result of a fit: the components, or a reason why the data cannot give them. */
public sealed interface FitOutcome permits ComponentsFit, NotEstimable {}
