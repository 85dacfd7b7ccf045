package lotproof.claim.upkeep;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.study.UnitKind;

/** Tests of cells and boards on their own that protect the figure of any kit, or why not. */
public sealed interface JigTest {

  /**
   * Tests that protect the figure: any accepted cell with any accepted board keeps it.
   *
   * @param factor limits at the governing load, in standard deviations as the jig sees them
   * @param units limits of each kind at each tested load
   * @param governingLoadKilograms the load that sets the limits
   * @param governingDirection rising or falling
   * @param allowanceGrams what pairing, readings and loads that are not tested take at that load
   * @param massGrams what is added for masses, loads between the tested ones and temperature
   *     correction
   * @param yieldFraction share of kits whose cell and board both pass, by the model
   * @param words the claim that the tests guarantee
   */
  record Protects(
      double factor,
      List<UnitLimit> units,
      double governingLoadKilograms,
      Direction governingDirection,
      double allowanceGrams,
      double massGrams,
      double yieldFraction,
      String words)
      implements JigTest {
    public Protects {
      units = List.copyOf(units);
    }
  }

  /**
   * No limits protect the figure.
   *
   * @param reason why, in a sentence
   */
  record CannotProtect(String reason) implements JigTest {}

  /**
   * No such test is called for.
   *
   * @param reason why, in a sentence
   */
  record NotNeeded(String reason) implements JigTest {}

  /**
   * The limits of one kind of unit at one tested load.
   *
   * @param kind cell or board
   * @param loadKilograms the load, or for a board the signal that belongs to it
   * @param direction rising or falling
   * @param centreGrams mean error of the study's kits there
   * @param acceptGrams the unit's own part of the error may differ from the mean by this much;
   *     rounded inward
   * @param centreMillivoltPerVolt for cells at level none: mean signal at that load, from the mean
   *     error and the default factor; absent otherwise
   * @param acceptMillivoltPerVolt for cells at level none: the limit as a signal
   * @param yieldFraction share of the study's production of this kind that passes
   * @param consumersRisk share that passes although its true part lies outside the limit plus guard
   *     band
   * @param producersRisk share that is rejected although it lies inside
   */
  record UnitLimit(
      UnitKind kind,
      double loadKilograms,
      Direction direction,
      double centreGrams,
      double acceptGrams,
      OptionalDouble centreMillivoltPerVolt,
      OptionalDouble acceptMillivoltPerVolt,
      double yieldFraction,
      double consumersRisk,
      double producersRisk) {}
}
