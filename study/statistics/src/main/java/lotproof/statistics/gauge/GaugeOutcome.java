package lotproof.statistics.gauge;

/** A gauge study by likelihood, or the reason why the readings cannot give it. */
public sealed interface GaugeOutcome permits GaugeFit, GaugeNotEstimable {}
