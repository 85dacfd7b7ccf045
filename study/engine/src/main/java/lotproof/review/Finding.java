package lotproof.review;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.study.Characteristic;
import lotproof.study.Decision;

/**
 * A unit or run that stands out in one characteristic, with its evidence. A person decides; the
 * program never does.
 *
 * @param target cell, board or run
 * @param serial serial of the unit, or name of the run
 * @param characteristic in what it stands out
 * @param effect how far from the mean of its kind, in the characteristic's unit, with its sign
 * @param modifiedZ distance from the median in robust standard deviations (Iglewicz and Hoaglin
 *     1993); absent where more than half of the values are equal
 * @param test how it was told from the other units or runs
 * @param favourable whether it lies on the good side: a unit that reads too well may have been
 *     measured wrongly too
 * @param evidence the values behind it
 * @param partners values of its partners in their other runs
 * @param verdict what the crossed data say is odd: the cell, the board, the pair or the run
 * @param signs what else the bench recorded: remarks, unusual noise
 * @param decision what was decided about it, if anything
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
    List<String> signs,
    Optional<Decision> decision) {

  /**
   * The generalized extreme Studentized deviate test (Rosner 1983) that a value failed.
   *
   * @param testValue the value of the test
   * @param criticalValue what that value exceeds at the 5 % level
   * @param compared how many values were compared, this one included
   */
  public record OutlierTest(double testValue, double criticalValue, int compared) {
    /** How far the value of the test is beyond the critical one, as their ratio. */
    double excess() {
      return testValue / criticalValue;
    }
  }

  /**
   * One value behind a finding.
   *
   * @param run the run
   * @param cell the cell of that run
   * @param board the board of that run
   * @param value the characteristic's value in that run
   */
  public record Evidence(String run, String cell, String board, double value) {}

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
   * What is odd, and how that is seen.
   *
   * @param odd what
   * @param why how the other runs show it, or what run would show it
   */
  public record Verdict(Odd odd, String why) {}

  public Finding {
    evidence = List.copyOf(evidence);
    partners = List.copyOf(partners);
    signs = List.copyOf(signs);
  }
}
