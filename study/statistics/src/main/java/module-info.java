/**
 * Statistics for studies of units in lots: variance components of crossed and nested studies,
 * limits for a unit that nobody has measured yet, tolerance limits, capability, gauge studies,
 * tests of outliers, shape and spread, and the stability of readings. Knows no load cell, no file,
 * no report; {@link lotproof.statistics} has an example.
 */
@SuppressWarnings("requires-automatic") // Commons Math 3 is older than modules
module lotproof.statistics {
  requires commons.math3;
  requires org.apache.commons.numbers.gamma;
  requires org.apache.commons.rng.api;
  requires org.apache.commons.rng.sampling;
  requires org.apache.commons.rng.simple;
  requires transitive org.apache.commons.statistics.distribution;
  requires static org.jspecify;

  exports lotproof.statistics;
  exports lotproof.statistics.calibration;
  exports lotproof.statistics.capability;
  exports lotproof.statistics.components;
  exports lotproof.statistics.conformity;
  exports lotproof.statistics.design;
  exports lotproof.statistics.gauge;
  exports lotproof.statistics.homogeneity;
  exports lotproof.statistics.outliers;
  exports lotproof.statistics.sequence;
  exports lotproof.statistics.shape;
  exports lotproof.statistics.stability;
  exports lotproof.statistics.summary;
  exports lotproof.statistics.tolerance;
}
