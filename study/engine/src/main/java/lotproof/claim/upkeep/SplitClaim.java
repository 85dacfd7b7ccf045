package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.LotScope;
import lotproof.statistics.DistributionQuantiles;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * What can be claimed honestly when bad units could ship and nothing would stop them: good kits
 * within a figure, and how many kits are good.
 *
 * <p>With x bad among n units of a kind, at most p_U = the quantile of Beta(x + 1, n - x) at the
 * confidence of the part are bad (Clopper and Pearson 1934, one-sided). A kit is good when its cell
 * and its board are, so with the content beta of the figure for good kits the content of all kits
 * is (1 - p_U) beta, with one factor for each kind that has bad units. The confidence that is left
 * over is shared by the parts: each is stated with 1 - (1 - confidence) / parts (Bonferroni), so
 * that all of them hold together with the asked one. Assumes units drawn at random; of few lots it
 * covers those lots.
 *
 * @param shares how many units of each kind with bad ones can be bad
 * @param contentFraction content of the figure among all kits
 * @param partConfidence confidence of each part
 */
public record SplitClaim(
    List<BadShare> shares,
    double goodContent,
    double contentFraction,
    double confidence,
    double partConfidence,
    List<LevelFigure> levels) {

  /**
   * How many units of a kind can be bad.
   *
   * @param upperFraction not more than this share is bad, at the part's confidence
   */
  public record BadShare(UnitKind kind, int bad, int units, double upperFraction) {}

  /**
   * The figure of good kits.
   *
   * @param goodGrams the figure for good kits at the part's confidence; absent when there is none
   * @param allGrams the figure with the bad units in, at the asked content and confidence; absent
   *     when there is none
   */
  public record LevelFigure(
      CalibrationLevel level, OptionalDouble goodGrams, OptionalDouble allGrams) {
    /** Whether good kits alone have a figure, and one below that of all. */
    public boolean isNarrower() {
      return goodGrams.isPresent()
          && (allGrams.isEmpty() || goodGrams.getAsDouble() < allGrams.getAsDouble());
    }
  }

  public SplitClaim {
    shares = List.copyOf(shares);
    levels = List.copyOf(levels);
  }

  /**
   * The share of bad units that is not exceeded, with a confidence: 0.058 for none of 50, 0.091 for
   * one of 50, at 0.95.
   */
  public static double upperFraction(int bad, int units, double confidence) {
    if (!(bad >= 0 && bad < units)) {
      throw new IllegalArgumentException(
          "bad must lie in 0.." + (units - 1) + " for " + units + " units, was " + bad);
    }
    return DistributionQuantiles.beta(bad + 1.0, (double) units - bad, confidence);
  }

  /**
   * Computes the split claim.
   *
   * @param badCells cells to be called bad, at least one unit in all
   * @param badBoards boards to be called bad
   */
  public static SplitClaim of(
      Study study,
      List<Reading> readings,
      List<Decision> decisions,
      Set<String> badCells,
      Set<String> badBoards) {
    int parts = 1 + (badCells.isEmpty() ? 0 : 1) + (badBoards.isEmpty() ? 0 : 1);
    if (parts == 1) {
      throw new IllegalArgumentException("a split claim needs a bad unit");
    }
    ClaimRequest claim = study.claim();
    double partConfidence = 1 - (1 - claim.confidence()) / parts;
    Study asked =
        study.withClaim(
            new ClaimRequest(
                claim.content(),
                partConfidence,
                claim.roundingGrams(),
                claim.form(),
                claim.subject(),
                claim.assumedLotRatio(),
                claim.levels()));
    List<Decision> without = new ArrayList<>(decisions);
    badCells.forEach(serial -> without.add(out(Decision.Target.CELL, serial)));
    badBoards.forEach(serial -> without.add(out(Decision.Target.BOARD, serial)));
    StudyResult all = new StudyAnalysis(study).analyse(readings, decisions);
    StudyResult good = new StudyAnalysis(asked).analyse(readings, without);
    List<BadShare> shares = new ArrayList<>();
    double content = claim.content();
    for (LotScope scope : good.asDecided().scopes()) {
      int bad = scope.kind() == UnitKind.CELL ? badCells.size() : badBoards.size();
      if (bad > 0) {
        int units = scope.units() + bad;
        double upper = upperFraction(bad, units, partConfidence);
        shares.add(new BadShare(scope.kind(), bad, units, upper));
        content *= 1 - upper;
      }
    }
    List<LevelFigure> levels = new ArrayList<>();
    for (int i = 0; i < claim.levels().size(); i++) {
      LevelClaim ofGood = good.asDecided().claims().get(i);
      LevelClaim ofAll = all.asDecided().claims().get(i);
      levels.add(new LevelFigure(ofGood.level(), ofGood.printableGrams(), ofAll.printableGrams()));
    }
    return new SplitClaim(
        shares, claim.content(), content, claim.confidence(), partConfidence, levels);
  }

  private static Decision out(Decision.Target target, String serial) {
    return new Decision(
        "split " + serial,
        "",
        "",
        Decision.Action.EXCLUDED,
        target,
        serial,
        Optional.empty(),
        Optional.empty(),
        "called bad",
        "",
        0);
  }
}
