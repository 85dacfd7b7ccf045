package lotproof.study;

/**
 * Accuracy class of a weight by OIML R 111-1:2004.
 *
 * <p>Limits of error are looked up in the table of limits in lotproof.reduce.
 */
public enum MassClass implements Keyed {
  E1,
  E2,
  F1,
  F2,
  M1,
  M1_2,
  M2,
  M2_3,
  M3;

  /** The class as the standard writes it. */
  @Override
  public String key() {
    return name().replace('_', '-');
  }
}
