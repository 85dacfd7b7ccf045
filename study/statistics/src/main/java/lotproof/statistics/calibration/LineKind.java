package lotproof.statistics.calibration;

/** The straight line that deviations are measured from. The figures differ, so each is named. */
public enum LineKind {
  /** Through the mean output at the smallest and at the largest load. */
  TERMINAL,
  /** The smallest sum of squared deviations. */
  LEAST_SQUARES
}
