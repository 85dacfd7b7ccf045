package lotproof.claim.evidence;

import java.util.List;
import lotproof.model.FactorPlan;
import lotproof.study.UnitKind;

/**
 * What the number of lots of one kind lets a claim say (docs/method.md, "Lots").
 *
 * @param units how many units the figure rests on
 */
public record LotScope(UnitKind kind, int units, List<String> lots) {
  /** How the claim has to be worded. */
  public enum Wording {
    /** Between-lot variation was not observed; the figure holds for that lot only. */
    ONE_LOT,
    /** Two to four lots cannot bound lot variation; the figure is wide because of it. */
    FEW_LOTS,
    /** Five lots or more. */
    GENERAL
  }

  public LotScope {
    lots = List.copyOf(lots);
  }

  /** How the claim has to be worded. */
  public Wording wording() {
    if (lots.size() <= 1) {
      return Wording.ONE_LOT;
    }
    return lots.size() < FactorPlan.LOTS_FOR_GENERAL_WORDING ? Wording.FEW_LOTS : Wording.GENERAL;
  }
}
