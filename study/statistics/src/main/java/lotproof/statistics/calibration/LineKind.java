package lotproof.statistics.calibration;

/** The straight line that deviations are measured from. The figures differ, so each is named. */
public enum LineKind {
  /** Through the mean output at the smallest and at the largest load. */
  TERMINAL,
  /** The smallest sum of squared deviations. */
  LEAST_SQUARES,
  /** The smallest largest deviation: the middle of the narrowest strip that holds every point. */
  MINIMUM_ZONE,
  /** Through the output at the smallest load and at 75 % of the range above it (OIML R 60). */
  THREE_QUARTERS
}
