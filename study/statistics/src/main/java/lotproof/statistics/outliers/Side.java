package lotproof.statistics.outliers;

/** Where an extreme value is looked for. Fixed before the data are seen. */
public enum Side {
  LARGEST,
  SMALLEST,
  EITHER
}
