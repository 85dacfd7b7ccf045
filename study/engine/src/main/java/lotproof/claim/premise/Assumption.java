package lotproof.claim.premise;

import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.study.Characteristic;
import lotproof.study.UnitKind;

/** Something that a figure assumes and that the reader must know, with its numbers. */
public sealed interface Assumption {

  /** What it does to the figure. */
  Effect effect();

  /** What a finding does to a figure. */
  enum Effect {
    /** It stands beside the figure. */
    SHOWN,
    /** The claim says that it is assumed. */
    CONDITION,
    /** The claim is for less than was asked. */
    RESTRICTION,
    /** Something is added to the figure. */
    ALLOWANCE,
    /** There is no figure. */
    NO_FIGURE
  }

  /**
   * Nobody stated how cells and boards were paired.
   *
   * @param effect always a condition
   * @param testable whether the design can show partners that go together
   */
  record PairingNotStated(Effect effect, int kits, boolean testable) implements Assumption {}

  /**
   * The study states that boards were matched to their cells.
   *
   * @param effect a restriction; no figure where the claim is for units alone
   */
  record MatchedKits(Effect effect, int kits) implements Assumption {}

  /**
   * The data show that partners go together, and the study does not state that they were matched.
   *
   * @param effect always no figure
   * @param correlation estimated correlation of the effects of first partners, in -1..1
   * @param chance how often chance alone gives so strong a sign in this characteristic
   */
  record PartnersGoTogether(
      Effect effect, Characteristic characteristic, double correlation, double chance, int kits)
      implements Assumption {}

  /**
   * Planned runs or listed units are missing without a cause.
   *
   * @param effect shown, an allowance or no figure
   * @param shareFraction the larger of the shares of runs and of units of a kind that are missing
   * @param likeWorstGrams the figure if the missing runs were like the worst ones, rounded outward
   *     and not below the figure itself; absent where it was not computed
   */
  record RunsMissing(
      Effect effect, int runs, int units, double shareFraction, OptionalDouble likeWorstGrams)
      implements Assumption {
    public RunsMissing with(OptionalDouble figureGrams) {
      return new RunsMissing(effect, runs, units, shareFraction, figureGrams);
    }
  }

  /**
   * Lots of one kind cannot be told from the time at which they were measured.
   *
   * @param effect an allowance where a check standard bounds what may hide, else no figure
   * @param time what lots go with
   * @param shareFraction largest share of a contrast of lots that the time explains
   * @param chance how often a random order does so
   * @param drift what the check standard says of it
   */
  record LotsAndDays(
      Effect effect, UnitKind kind, Time time, double shareFraction, double chance, Drift drift)
      implements Assumption {

    /** What lots go with. */
    public enum Time {
      SESSIONS("sessions"),
      ORDER("run order");

      private final String word;

      Time(String word) {
        this.word = word;
      }

      /** For people. */
      public String word() {
        return word;
      }
    }

    /** The same with what a check standard says of it. */
    public LotsAndDays with(Effect other, Drift found) {
      return new LotsAndDays(other, kind, time, shareFraction, chance, found);
    }

    /** What may hide, in the claim's form; empty where it is not known. */
    public OptionalDouble hiddenGrams() {
      return drift instanceof Drift.Bounded bounded
          ? OptionalDouble.of(bounded.grams())
          : OptionalDouble.empty();
    }
  }

  /**
   * The figure holds only if the spread is normal in shape: without that, so many independent kits
   * or lots support less than the asked content, whatever they show.
   *
   * @param effect always a condition
   * @param kits what independent kits support; absent where they support the content
   * @param lots what lots support, of kits from any lot; absent where they support the content or
   *     the claim is for the lots that were studied
   */
  record RestsOnShape(Effect effect, Optional<Support> kits, Optional<Support> lots)
      implements Assumption {}

  /**
   * The content that the largest error of so many independent kits supports, in any shape.
   *
   * @param count 0 where none was tested
   */
  record Support(int count, double contentFraction) {}

  /**
   * The errors are not normal in shape.
   *
   * @param effect shown where independent kits support the content without a shape, else no figure
   * @param andersonDarling A squared of the errors of independent kits, where errors are widest
   * @param chance of so much with normal effects
   * @param neededKits independent kits that would support the content
   */
  record NotNormal(
      Effect effect, double andersonDarling, double chance, Support kits, int neededKits)
      implements Assumption {}

  /** What a check standard says of a drift that may hide how lots differ. */
  sealed interface Drift {
    /** It was not asked. */
    record NotAsked() implements Drift {}

    /** The largest hidden difference of a lot from the mean of lots, in the claim's form. */
    record Bounded(double grams) implements Drift {}

    /** The check standard has too few runs; 0 without one. */
    record FewCheckRuns(int runs, int needed) implements Drift {}

    /** The check standard was not measured in a session. */
    record UncheckedSession(String session) implements Drift {}
  }
}
