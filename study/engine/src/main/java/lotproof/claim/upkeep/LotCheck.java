package lotproof.claim.upkeep;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.study.ClaimSubject;
import lotproof.study.WatchVerdict;

/**
 * A later lot held against the study.
 *
 * @param subject what was measured and compared: kits, or cells or boards alone on one partner
 * @param kits kits, or such units, that share no unit
 * @param allKits kits measured
 * @param levels one for each calibration level with a figure
 * @param verdict the gravest of the levels' verdicts
 * @param falseAlarmFraction a lot like those studied is called other than "claim holds" in at most
 *     about this share of checks, over all levels together
 * @param remarks what the reader must know
 */
public record LotCheck(
    ClaimSubject subject,
    int kits,
    int allKits,
    List<LevelCheck> levels,
    WatchVerdict verdict,
    double falseAlarmFraction,
    List<String> remarks) {

  /**
   * One calibration level.
   *
   * @param level the level with its masses
   * @param loadKilograms where mean and spread are compared: the study's worst load
   * @param direction rising or falling
   * @param figureGrams the figure
   * @param meanGrams mean error of the lot's kits
   * @param studyMeanGrams mean of the study
   * @param meanLimitGrams the lot's mean may differ from it by this much
   * @param sdGrams standard deviation of the lot's kits; absent with one kit
   * @param studySdGrams standard deviation within lots by the study
   * @param sdLimitGrams largest that the study explains; absent with one kit
   * @param largestGrams largest size of error over all kits and loads
   * @param largestRun the run that shows it
   * @param beyond kits beyond the figure
   * @param allowedBeyond more than this many speak against the claim's content
   * @param extremeGrams a kit may differ from the study's mean by this much at the worst load
   * @param bestContentFraction share of the lot within the figure by the most favourable mean that
   *     the kits allow
   * @param seenShiftGrams a shift of the lot's mean by this much is seen in 80 % of checks
   * @param seenSpreadRatio a spread within the lot of this many times the study's is seen in 80 %
   *     of checks; absent with one kit
   * @param verdict what follows
   * @param reasons why, in sentences; empty when the claim holds
   */
  public record LevelCheck(
      String level,
      double loadKilograms,
      Direction direction,
      double figureGrams,
      double meanGrams,
      double studyMeanGrams,
      double meanLimitGrams,
      OptionalDouble sdGrams,
      double studySdGrams,
      OptionalDouble sdLimitGrams,
      double largestGrams,
      String largestRun,
      int beyond,
      int allowedBeyond,
      double extremeGrams,
      double bestContentFraction,
      double seenShiftGrams,
      OptionalDouble seenSpreadRatio,
      WatchVerdict verdict,
      List<String> reasons) {
    public LevelCheck {
      reasons = List.copyOf(reasons);
    }
  }

  public LotCheck {
    levels = List.copyOf(levels);
    remarks = List.copyOf(remarks);
  }
}
