package lotproof.statistics.components;

/** Result of fitting curves: the components at every point, or a reason why there are none. */
public sealed interface CurveOutcome permits CurveComponents, NotEstimable {}
