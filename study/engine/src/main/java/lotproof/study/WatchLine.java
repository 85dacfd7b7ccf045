package lotproof.study;

import java.util.OptionalDouble;

/**
 * One line of watch.csv: one later lot at one calibration level.
 *
 * @param check name of the check, such as W1; its levels share it
 * @param date when, as given (a date or a time, ISO 8601)
 * @param lot the later lot, as the maker calls it
 * @param kits kits of it that were measured and share no unit
 * @param level the calibration level with its masses
 * @param figureGrams the figure that was held against it
 * @param loadKilograms the load at which mean and spread were compared
 * @param direction rising or falling
 * @param meanGrams mean error of the lot's kits there
 * @param studyMeanGrams mean of the study
 * @param meanLimitGrams how far the lot's mean may be from it
 * @param sdGrams standard deviation of the lot's kits; absent with one kit
 * @param studySdGrams standard deviation within lots, by the study
 * @param sdLimitGrams largest standard deviation that the study explains; absent with one kit
 * @param largestGrams largest size of error over all kits and loads
 * @param beyond kits beyond the figure
 * @param verdict what follows
 * @param file the file of readings
 * @param fileHash its SHA-256
 * @param studyHash hash of the study's record when it was checked
 */
public record WatchLine(
    String check,
    String date,
    String lot,
    int kits,
    String level,
    double figureGrams,
    double loadKilograms,
    String direction,
    double meanGrams,
    double studyMeanGrams,
    double meanLimitGrams,
    OptionalDouble sdGrams,
    double studySdGrams,
    OptionalDouble sdLimitGrams,
    double largestGrams,
    int beyond,
    Verdict verdict,
    String file,
    String fileHash,
    String studyHash) {
  public WatchLine {
    Require.text(check, "check");
    Require.text(lot, "lot");
    Require.text(level, "level");
    if (kits < 1) {
      throw new IllegalArgumentException("kits must be 1 or more, was " + kits);
    }
  }

  /** What a later lot says about the claim, the mildest first. */
  public enum Verdict {
    /** Nothing in these kits speaks against the claim. */
    CLAIM_HOLDS("claim holds"),
    /** The lot differs from what was studied, though its kits keep the figure. */
    RE_STUDY("re-study"),
    /** The kits show that the lot does not keep the figure. */
    HOLD_THE_LOT("hold the lot");

    private final String word;

    Verdict(String word) {
      this.word = word;
    }

    /** The word used in watch.csv and on every output. */
    public String word() {
      return word;
    }
  }
}
