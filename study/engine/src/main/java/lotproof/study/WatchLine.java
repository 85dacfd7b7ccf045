package lotproof.study;

import java.util.OptionalDouble;

/**
 * One line of watch.csv: one later lot at one calibration level.
 *
 * @param check name of the check, such as W1; its levels share it
 * @param lot the later lot, as the maker calls it
 * @param level the calibration level with its masses
 * @param figureGrams the figure that was held against it
 * @param loadKilograms the load at which mean and spread were compared
 * @param direction rising or falling
 */
public record WatchLine(
    String check,
    String date,
    String lot,
    Kits kits,
    String level,
    double figureGrams,
    double loadKilograms,
    String direction,
    Mean mean,
    Spread spread,
    Verdict verdict,
    Source source) {
  public WatchLine {
    Require.text(check, "check");
    Require.text(lot, "lot");
    Require.text(level, "level");
  }

  /**
   * The lot's kits one by one.
   *
   * @param measured kits that were measured and share no unit
   * @param largestGrams largest size of error over all kits and loads
   */
  public record Kits(int measured, double largestGrams, int beyond) {
    public Kits {
      if (measured < 1) {
        throw new IllegalArgumentException("kits must be 1 or more, was " + measured);
      }
    }
  }

  /**
   * The mean error.
   *
   * @param grams of the lot's kits
   * @param studyGrams of the study
   * @param limitGrams how far the lot's mean may be from it
   */
  public record Mean(double grams, double studyGrams, double limitGrams) {}

  /**
   * The standard deviation within a lot.
   *
   * @param grams of the lot's kits; absent with one kit
   * @param studyGrams by the study
   * @param limitGrams largest that the study explains; absent with one kit
   */
  public record Spread(OptionalDouble grams, double studyGrams, OptionalDouble limitGrams) {}

  /**
   * What was compared.
   *
   * @param studyHash hash of the study's record when it was checked
   */
  public record Source(String file, String fileHash, String studyHash) {}

  /** What a later lot says about the claim, the mildest first. */
  public enum Verdict implements Keyed {
    /** Nothing in these kits speaks against the claim. */
    CLAIM_HOLDS,
    /** The lot differs from what was studied, though its kits keep the figure. */
    RE_STUDY,
    /** The kits show that the lot does not keep the figure. */
    HOLD_THE_LOT;

    /** The words used in watch.csv and on every output. */
    @Override
    public String key() {
      return this == RE_STUDY ? "re-study" : Keyed.super.key().replace('-', ' ');
    }
  }
}
