package lotproof.claim.upkeep;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.study.ClaimRequest;
import lotproof.study.UnitKind;
import lotproof.study.WatchLine;

/**
 * A later lot held against the study.
 *
 * @param subject what was measured and compared: kits, or cells or boards alone on one partner
 * @param kits kits, or such units, that share no unit
 * @param levels one for each calibration level with a figure
 * @param verdict the gravest of the levels' verdicts
 * @param falseAlarmFraction a lot like those studied is called other than "claim holds" in at most
 *     about this share of checks, over all levels together
 */
public record LaterLotCheck(
    ClaimRequest.Subject subject,
    int kits,
    int allKits,
    List<LevelCheck> levels,
    WatchLine.Verdict verdict,
    double falseAlarmFraction,
    List<Remark> remarks) {
  public LaterLotCheck {
    levels = List.copyOf(levels);
    remarks = List.copyOf(remarks);
  }

  /**
   * One calibration level.
   *
   * @param level the level with its masses
   * @param loadKilograms where mean and spread are compared: the study's worst load
   * @param largestRun the run with the largest error
   */
  public record LevelCheck(
      String level,
      double loadKilograms,
      Direction direction,
      double figureGrams,
      double content,
      String largestRun,
      Judgement judgement) {}

  /**
   * What the rules say of the lot's kits.
   *
   * @param broken rules that speak against the lot, the gravest first; none when the claim holds
   */
  public record Judgement(
      Mean mean, Spread spread, Single single, WatchLine.Verdict verdict, List<Rule> broken) {
    public Judgement {
      broken = List.copyOf(broken);
    }
  }

  /**
   * Rules of a check. The first three say that the lot does not keep the claim, the others that it
   * differs from what was studied.
   */
  public enum Rule {
    /** Too many kits beyond the figure. */
    BEYOND,
    /** A single kit too far from the study's mean. */
    EXTREME,
    /** Even the most favourable mean leaves too little content. */
    CONTENT,
    /** The lot's mean is too far from the study's. */
    MEAN,
    /** The lot spreads too much. */
    SPREAD
  }

  /**
   * The lot's mean error.
   *
   * @param limitGrams it may differ from the study's by this much
   * @param seenShiftGrams a shift by this much is seen in 80 % of checks
   */
  public record Mean(double grams, double studyGrams, double limitGrams, double seenShiftGrams) {}

  /**
   * The standard deviation within the lot, and within lots of the study.
   *
   * @param grams absent with one kit
   * @param limitGrams largest that the study explains; absent with one kit
   * @param seenRatio a spread of this many times the study's is seen in 80 % of checks; absent with
   *     one kit
   */
  public record Spread(
      OptionalDouble grams,
      double studyGrams,
      OptionalDouble limitGrams,
      OptionalDouble seenRatio) {}

  /**
   * Single kits of the lot.
   *
   * @param largestGrams largest error that counts over all kits and loads
   * @param beyond how many of them are beyond the figure
   * @param allowedBeyond more than this many speak against the claim's content
   * @param furthestGrams largest distance of a kit from the study's mean at the worst load
   * @param extremeGrams such a distance may be this large
   * @param bestContentFraction share of the lot within the figure by the most favourable mean that
   *     the kits allow
   */
  public record Single(
      double largestGrams,
      int kits,
      int beyond,
      int allowedBeyond,
      double furthestGrams,
      double extremeGrams,
      double bestContentFraction) {}

  /** What the reader must know of a check. */
  public sealed interface Remark {
    /** Runs that have other loads than the study and were not compared. */
    record OtherLoads(int runs) implements Remark {}

    /** Runs that are not of what the claim is for and were not compared. */
    record NotOfSubject(int runs) implements Remark {}

    /** A level that was not compared; the runs that cannot be corrected for temperature. */
    record NotCompared(String level, int uncorrectedRuns) implements Remark {}

    /** The lot was read farther from its calibration temperature than the study. */
    record FartherFromCalibration(String level, double lotKelvin, double studyKelvin)
        implements Remark {}

    /** Lot and study are compared at one temperature, though the figure holds for a change. */
    record AtOneTemperature(String level) implements Remark {}

    /**
     * The claim is for matched kits: study and lot are compared by the kits of partners that had
     * met nobody before.
     *
     * @param kits kits of the lot that were compared
     * @param leftOut further pairs of its units, which no buyer gets
     */
    record MatchedKits(int kits, int leftOut) implements Remark {}

    /** The claim is for units alone and the lot was measured as kits. */
    record MeasuredAsKits() implements Remark {}

    /** The study saw one lot of a kind only. */
    record OneLotStudied(UnitKind kind) implements Remark {}
  }
}
