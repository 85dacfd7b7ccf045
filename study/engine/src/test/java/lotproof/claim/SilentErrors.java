package lotproof.claim;

import java.util.List;
import java.util.Locale;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.RestsOnShape;
import lotproof.study.Design.Pairing;

/**
 * Studies in which something that the figure assumes is not so, and clean studies of the same
 * kinds: how often a figure is wrong, and how often without a word in the claim.
 */
enum SilentErrors {
  MATCHED_ROTATION(0, "matched pairs, rotation of 50", false),
  MATCHED_SMALL_ROTATION(1, "matched pairs, rotation of 20", false),
  MATCHED_STATED_RANDOM(2, "matched pairs, rotation of 50, stated as random", false),
  MATCHED_PAIRS(3, "matched pairs, 50 disjoint", false),
  MISSING_RANDOM_10(4, "10 % of runs missing at random", false),
  MISSING_RANDOM_20(5, "20 % of runs missing at random", false),
  MISSING_RANDOM_30(6, "30 % of runs missing at random", false),
  MISSING_LARGEST_2(7, "2 % of runs missing, the largest", false),
  MISSING_LARGEST_3(20, "3 % of runs missing, the largest", false),
  MISSING_LARGEST_5(8, "5 % of runs missing, the largest", false),
  MISSING_LARGEST_10(9, "10 % of runs missing, the largest", false),
  MISSING_LARGEST_20(10, "20 % of runs missing, the largest", false),
  MISSING_LARGEST_30(11, "30 % of runs missing, the largest", false),
  DRIFT_UNCHECKED(12, "drift against lots, no check standard", false),
  DRIFT_TENTH_CHECKED(13, "a tenth of such a drift, check standard", false),
  DRIFT_CHECKED(14, "drift against lots, check standard", false),
  CLEAN_ROTATION(15, "clean: rotation of 50", true),
  CLEAN_SMALL_ROTATION(16, "clean: rotation of 20", true),
  CLEAN_PAIRS(17, "clean: 50 disjoint pairs", true),
  CLEAN_LOTS(18, "clean: rotation of 50, 5 lots, sessions of 10", true),
  CLEAN_LOTS_CHECKED(19, "clean: 50 disjoint pairs, 5 lots, check standard", true);

  private static final double LOT_SHARE = 0.7;
  private static final int FUTURE = 20_000;

  private final long seeds;
  private final String words;
  private final boolean clean;

  /** A kind with a number of its own, so that its studies do not change when kinds are added. */
  SilentErrors(long number, String words, boolean clean) {
    this.seeds = 20261130 + 1000 * number;
    this.words = words;
    this.clean = clean;
  }

  String words() {
    return words;
  }

  boolean clean() {
    return clean;
  }

  /** What came of studies: at level none, where matching, size and drift matter most. */
  record Count(int studies, int figures, int wrong, int silent, int findings) {
    String row(String words) {
      return String.format(
          Locale.ROOT,
          "| %s | %d | %d | %d | %d | %d |",
          words,
          studies,
          figures,
          wrong,
          silent,
          findings);
    }
  }

  Count count(int studies) {
    double[] truth = AssumingStudies.truth(lots() > 1 ? LOT_SHARE : 0, boardScale(), FUTURE);
    int figures = 0;
    int wrong = 0;
    int silent = 0;
    int findings = 0;
    for (int s = 0; s < studies; s++) {
      LevelClaim claim = study(seeds + s).uncalibrated();
      boolean figure = claim.figure().isPresent();
      boolean small = figure && claim.figure().get().limitGrams() < truth[0];
      figures += figure ? 1 : 0;
      wrong += small ? 1 : 0;
      silent += small && !speaks(claim) ? 1 : 0;
      findings += found(claim).isEmpty() ? 0 : 1;
    }
    return new Count(studies, figures, wrong, silent, findings);
  }

  /** Whether the claim carries something that was found; every such finding is worded. */
  private static boolean speaks(LevelClaim claim) {
    return found(claim).stream()
        .anyMatch(found -> !(found instanceof LotsAndDays lots) || lots.hiddenGrams().isPresent());
  }

  /** Without what rests on the normal shape, which follows from the numbers of units and lots. */
  private static List<Assumption> found(LevelClaim claim) {
    return claim.assumptions().stream().filter(a -> !(a instanceof RestsOnShape)).toList();
  }

  private int lots() {
    return name().startsWith("DRIFT") || name().startsWith("CLEAN_LOTS") ? 5 : 1;
  }

  private double boardScale() {
    return name().startsWith("MATCHED") ? 2.5 : 1;
  }

  private AssumingStudies study(long seed) {
    int units = name().contains("SMALL") ? 20 : 50;
    AssumingStudies study =
        new AssumingStudies(seed, units, lots(), lots() > 1 ? LOT_SHARE : 0, boardScale());
    return switch (this) {
      case MATCHED_ROTATION, MATCHED_SMALL_ROTATION -> study.matched().passes(2, 20, c -> 0);
      case MATCHED_STATED_RANDOM -> study.matched().passes(2, 20, c -> 0).stating(Pairing.RANDOM);
      case MATCHED_PAIRS -> study.matched().passes(1, 20, c -> 0);
      case MISSING_RANDOM_10 -> rotation(study).without(10, false);
      case MISSING_RANDOM_20 -> rotation(study).without(20, false);
      case MISSING_RANDOM_30 -> rotation(study).without(30, false);
      case MISSING_LARGEST_2 -> rotation(study).without(2, true);
      case MISSING_LARGEST_3 -> rotation(study).without(3, true);
      case MISSING_LARGEST_5 -> rotation(study).without(5, true);
      case MISSING_LARGEST_10 -> rotation(study).without(10, true);
      case MISSING_LARGEST_20 -> rotation(study).without(20, true);
      case MISSING_LARGEST_30 -> rotation(study).without(30, true);
      case DRIFT_UNCHECKED -> drifting(study, 1);
      case DRIFT_TENTH_CHECKED -> drifting(study, 0.1).withCheckStandard();
      case DRIFT_CHECKED -> drifting(study, 1).withCheckStandard();
      case CLEAN_ROTATION, CLEAN_SMALL_ROTATION -> rotation(study);
      case CLEAN_PAIRS -> study.passes(1, 20, c -> 0).planned().stating(Pairing.RANDOM);
      case CLEAN_LOTS -> study.passes(2, 10, c -> 0).planned().stating(Pairing.RANDOM);
      case CLEAN_LOTS_CHECKED ->
          study.passes(1, 10, c -> 0).planned().stating(Pairing.RANDOM).withCheckStandard();
    };
  }

  private static AssumingStudies rotation(AssumingStudies study) {
    return study.passes(2, 20, c -> 0).planned().stating(Pairing.RANDOM);
  }

  private static AssumingStudies drifting(AssumingStudies study, double share) {
    study.lotByLot();
    return study.passes(1, 10, study.against(share)).planned().stating(Pairing.RANDOM);
  }
}
