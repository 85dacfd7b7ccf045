package lotproof.review;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.LoadRun;
import lotproof.study.Characteristic;
import lotproof.study.Decision;

/**
 * A unit or run that stands out in one characteristic, with its evidence. A person decides; the
 * program never does.
 *
 * @param serial serial of the unit, or name of the run
 * @param effect how far from the mean of its kind, in the characteristic's unit, with its sign
 * @param modifiedZ distance from the median in robust standard deviations (Iglewicz and Hoaglin
 *     1993); absent where more than half of the values are equal
 * @param test how it was told from the other units or runs
 * @param favourable whether it lies on the good side: a unit that reads too well may have been
 *     measured wrongly too
 * @param partners values of its partners in their other runs
 * @param verdict what the crossed data say is odd: the cell, the board, the pair or the run
 */
public record Finding(
    Decision.Target target,
    String serial,
    Characteristic characteristic,
    double effect,
    OptionalDouble modifiedZ,
    OutlierTest test,
    boolean favourable,
    List<Evidence> evidence,
    List<Evidence> partners,
    Verdict verdict,
    List<Sign> signs,
    Optional<Decision> decision) {
  /**
   * The generalized extreme Studentized deviate test (Rosner 1983) that a value failed.
   *
   * @param criticalValue what the value of the test exceeds at the 5 % level
   * @param compared how many values were compared, this one included
   */
  public record OutlierTest(double testValue, double criticalValue, int compared) {
    /** How far the value of the test is beyond the critical one, as their ratio. */
    double excess() {
      return testValue / criticalValue;
    }
  }

  /** One value behind a finding: the characteristic's in that run. */
  public record Evidence(String run, String cell, String board, double value) {
    static Evidence of(LoadRun run, double value) {
      return new Evidence(run.name(), run.cell(), run.board(), value);
    }
  }

  /** What the data say is odd. */
  public enum Odd {
    CELL("the cell"),
    BOARD("the board"),
    PAIR("the pair"),
    RUN("the run"),
    /** The runs at hand cannot tell. */
    OPEN("not known");

    private final String word;

    Odd(String word) {
      this.word = word;
    }

    /** For people. */
    public String word() {
      return word;
    }
  }

  /**
   * What is odd, and how the other runs show it.
   *
   * @param left what cell and board leave over of a run; absent for a unit
   * @param shown of a unit how far it is off with each partner; of a run what is left over in the
   *     runs that speak: the others of its pair, else those of its cell or board that are off the
   *     other way
   * @param othersAtMost how far others of its kind are off with the same partners; absent where
   *     there are none, and where the unit itself is not odd
   */
  public record Verdict(
      Odd odd, OptionalDouble left, Map<String, Double> shown, OptionalDouble othersAtMost) {}

  /**
   * What else the bench recorded about a run.
   *
   * @param remark what was written; empty for noise
   * @param noiseRatio its noise over the median of all runs; absent for a remark
   */
  public record Sign(String run, String remark, OptionalDouble noiseRatio) {}

  public Finding {
    evidence = List.copyOf(evidence);
    partners = List.copyOf(partners);
    signs = List.copyOf(signs);
  }
}
