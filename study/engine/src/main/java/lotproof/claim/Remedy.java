package lotproof.claim;

import java.util.List;
import lotproof.model.Role;
import lotproof.study.ClaimRequest.LevelRequest;

/**
 * What would make a wanted figure supportable, alone and by the estimates at hand, or would not.
 */
public sealed interface Remedy {
  /** Whether this alone would do. */
  default boolean possible() {
    return true;
  }

  /** What would not do. */
  sealed interface NoHelp extends Remedy {
    @Override
    default boolean possible() {
      return false;
    }
  }

  /** Levels of the same study that support the figure. */
  record OtherLevels(List<LevelRequest> levels) implements Remedy {
    public OtherLevels {
      levels = List.copyOf(levels);
    }
  }

  /** Finer masses for bench and buyer, which take this much of the figure. */
  record FinerMasses(double grams, boolean possible) implements Remedy {}

  /** More units or lots do not help: as estimated, kits already need this figure. */
  record SampleDoesNotHelp(double neededGrams) implements NoHelp {}

  /** Tested kits beyond the figure: so many kits in all would have to show no more. */
  record TestedKitsBeyond(int beyond, int neededKits) implements NoHelp {}

  record MoreUnits(int units, int neededUnits) implements Remedy {}

  record MoreLots(int lots, int neededLots, int unitsPerLot) implements Remedy {}

  /** Not even this many lots would do. */
  record LotsDoNotHelp(int lots) implements NoHelp {}

  /**
   * One spread has to come down.
   *
   * @param share of its standard deviation that may stay
   */
  record LessSpread(Role role, String source, double standardDeviationGrams, double share)
      implements Remedy {}

  /** A screen on the own error of each unit, as far as it may lie from the mean of all. */
  record Screen(Role role, double limitGrams, double yieldFraction) implements Remedy {}

  /**
   * No spread alone would do, so all of them have to come down to a share.
   *
   * @param largest name of the largest source; empty where there is none
   * @param share 0 where the figure is not reached even without any spread
   */
  record LessOfAllSpreads(String largest, double share) implements Remedy {
    @Override
    public boolean possible() {
      return share > 0;
    }
  }

  /**
   * A smaller content: the figure holds for this one by the model.
   *
   * @param contentFraction 0 if it does not hold for half
   */
  record SmallerContent(double contentFraction, int kits, int beyond) implements Remedy {
    @Override
    public boolean possible() {
      return contentFraction > 0;
    }
  }
}
