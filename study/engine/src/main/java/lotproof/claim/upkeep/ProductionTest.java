package lotproof.claim.upkeep;

import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.reduce.Direction;
import lotproof.study.UnitKind;

/**
 * A production test that protects a figure, or why there is none. Numbers in grams are those of the
 * claim's form.
 */
public sealed interface ProductionTest {

  /**
   * A test of finished kits, or of units alone on the study's partner.
   *
   * @param acceptGrams a kit passes when its error is within plus or minus this at every tested
   *     load; rounded inward
   * @param boundGrams the same before rounding
   * @param guardBandGrams the figure minus {@code acceptGrams}: the whole guard band
   * @param addedGrams part of it for masses, loads between the tested ones and temperature
   *     correction, added
   * @param testerUncertaintyGrams standard uncertainty of one reading of the tester
   * @param governing index into {@code loads} of the one that sets the limit
   * @param readAt indices into {@code loads} of those that production reads
   * @param expected what the test does with production as it was studied
   */
  record Finished(
      double acceptGrams,
      double boundGrams,
      double guardBandGrams,
      double addedGrams,
      double testerUncertaintyGrams,
      List<LoadGuard> loads,
      int governing,
      List<Integer> readAt,
      Expected expected)
      implements ProductionTest {
    public Finished {
      loads = List.copyOf(loads);
      readAt = List.copyOf(readAt);
    }
  }

  /**
   * Yield and risks, by the model at the tested load that rejects most.
   *
   * @param yieldFraction share of the study's production that passes
   * @param passed how many of the study's runs would have passed
   * @param runs how many there are; 0 where the study measured no kit
   * @param consumersRisk share of production that passes although it exceeds the figure at that
   *     load
   * @param producersRisk share that is rejected although it keeps the figure at that load
   */
  record Expected(
      double yieldFraction, int passed, int runs, double consumersRisk, double producersRisk) {}

  /**
   * What one load of the study allows the limit to be.
   *
   * @param predictedFrom index of the tested load that predicts this one; absent where the claimed
   *     error is itself tested
   * @param offsetGrams of a predicted load: error where the tested one is zero
   * @param slope of a predicted load: change by gram of the tested error
   * @param uncertaintyGrams allowance for readings, and at a predicted load for what the tested one
   *     does not predict
   * @param allowsGrams largest limit with which this load keeps the figure
   */
  record LoadGuard(
      double loadKilograms,
      Direction direction,
      OptionalInt predictedFrom,
      double offsetGrams,
      double slope,
      double uncertaintyGrams,
      double allowsGrams) {
    public boolean tested() {
      return predictedFrom.isEmpty();
    }
  }

  /**
   * Tests of cells and boards alone: any accepted cell with any accepted board keeps the figure.
   *
   * @param factor limits at the governing load, in standard deviations as the jig sees them
   * @param units limits of each kind at each tested load
   * @param allowanceGrams what pairing, readings and loads that are not tested take at that load
   * @param addedGrams what is added for masses, loads between the tested ones and temperature
   *     correction
   * @param yieldFraction share of kits whose cell and board both pass, by the model
   */
  record OnJig(
      double factor,
      List<UnitLimit> units,
      double governingLoadKilograms,
      Direction governingDirection,
      double allowanceGrams,
      double addedGrams,
      double yieldFraction)
      implements ProductionTest {
    public OnJig {
      units = List.copyOf(units);
    }
  }

  /**
   * The limits of one kind of unit at one tested load.
   *
   * @param loadKilograms the load, or for a board the signal that belongs to it
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

  /** The other kind of test is the one that counts for this claim. */
  record NotNeeded() implements ProductionTest {}

  /** No limit of such a test protects the figure. */
  record CannotProtect(Why why) implements ProductionTest {}

  /** Why no limit protects a figure. */
  sealed interface Why {
    /** The calibration leaves no error at any of the test loads; the study has these. */
    record NoTestedLoad(List<Double> studyLoadsKilograms) implements Why {}

    /** Too few items were measured again, and nobody stated the tester's uncertainty. */
    record RepeatabilityNotKnown(int degreesOfFreedom, int needed) implements Why {}

    /** What is added for masses, loads between and correction uses up the figure. */
    record NothingLeft(double addedGrams) implements Why {}

    /**
     * What one load needs uses up the figure.
     *
     * @param offsetGrams mean error of what the test does not correct
     * @param addedGrams masses, loads between and correction
     * @param allowanceGrams for readings and what is not tested
     * @param predicted whether a test at that load would need less
     */
    record NoRoom(
        double loadKilograms,
        Direction direction,
        double offsetGrams,
        double addedGrams,
        double allowanceGrams,
        boolean predicted)
        implements Why {}

    /** No kit was measured, so one load says nothing of another. */
    record NoKitMeasured() implements Why {}

    /** Boards were matched to their cells, so units alone say nothing of the kit that ships. */
    record MatchedKits() implements Why {}

    /** Each unit met one partner only. */
    record CellsAndBoardsMixed() implements Why {}

    /** The covariances of the loads cannot be estimated. */
    record NotEstimable(String reason) implements Why {}
  }
}
