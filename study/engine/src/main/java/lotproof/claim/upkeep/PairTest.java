package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import lotproof.reduce.Direction;

/**
 * The production test of finished kits, or of units alone on the study's partner, that protects a
 * figure, or why there is none. Numbers in grams are those of the claim's form.
 */
public sealed interface PairTest {

  /**
   * A test that protects the figure.
   *
   * @param acceptGrams a kit passes when its error is within plus or minus this at every tested
   *     load; rounded inward
   * @param boundGrams the same before rounding
   * @param guardBandGrams the figure minus {@code acceptGrams}: the whole guard band
   * @param massGrams part of it for masses, loads between the tested ones and temperature
   *     correction, added
   * @param testerUncertaintyGrams standard uncertainty of one reading of the tester
   * @param loads what each load of the study allows
   * @param governing index into {@code loads} of the one that sets the limit
   * @param yieldFraction share of the study's production that passes, by the model at the tested
   *     load that rejects most
   * @param passed how many of the study's runs would have passed
   * @param runs how many there are; 0 where the study measured no kit
   * @param consumersRisk share of production that passes although it exceeds the figure at that
   *     load
   * @param producersRisk share that is rejected although it keeps the figure at that load
   * @param words the claim that the test guarantees
   */
  record Protects(
      double acceptGrams,
      double boundGrams,
      double guardBandGrams,
      double massGrams,
      double testerUncertaintyGrams,
      List<LoadGuard> loads,
      int governing,
      double yieldFraction,
      int passed,
      int runs,
      double consumersRisk,
      double producersRisk,
      String words)
      implements PairTest {
    public Protects {
      loads = List.copyOf(loads);
    }

    /** The same from a study whose runs were not of what is tested. */
    Protects withoutRuns() {
      return new Protects(
          acceptGrams,
          boundGrams,
          guardBandGrams,
          massGrams,
          testerUncertaintyGrams,
          loads,
          governing,
          yieldFraction,
          0,
          0,
          consumersRisk,
          producersRisk,
          words);
    }
  }

  /**
   * No limit of such a test protects the figure.
   *
   * @param reason why, in a sentence
   */
  record CannotProtect(String reason) implements PairTest {}

  /**
   * No such test is called for.
   *
   * @param reason why, in a sentence
   */
  record NotNeeded(String reason) implements PairTest {}

  /**
   * What one load of the study allows the limit to be.
   *
   * @param loadKilograms the load
   * @param direction rising or falling
   * @param tested whether production reads there
   * @param predictedFrom for a load that is not tested: the tested load that foretells it best
   * @param offsetGrams for it: error where the tested one is zero
   * @param slope for it: change by gram of the tested error
   * @param uncertaintyGrams allowance for readings, and for a load that is not tested for what the
   *     tested one does not foretell
   * @param allowsGrams largest limit with which this load keeps the figure
   */
  record LoadGuard(
      double loadKilograms,
      Direction direction,
      boolean tested,
      Optional<String> predictedFrom,
      double offsetGrams,
      double slope,
      double uncertaintyGrams,
      double allowsGrams) {}
}
