package lotproof.study;

/** What a later lot says about the claim, the mildest first. */
public enum WatchVerdict {
  /** Nothing in these kits speaks against the claim. */
  CLAIM_HOLDS("claim holds"),
  /** The lot differs from what was studied, though its kits keep the figure. */
  RE_STUDY("re-study"),
  /** The kits show that the lot does not keep the figure. */
  HOLD_THE_LOT("hold the lot");

  private final String word;

  WatchVerdict(String word) {
    this.word = word;
  }

  /** The word used in watch.csv and on every output. */
  public String word() {
    return word;
  }
}
