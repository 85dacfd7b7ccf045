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
 * @param testValue value of the generalized extreme Studentized deviate test (Rosner 1983)
 * @param criticalValue what that value exceeds at the 5 % level
 * @param compared how many units or runs it was compared with, itself included
 * @param evidence the values behind it
 * @param decision what was decided about it, if anything
 */
public record Finding(
    Decision.Target target,
    String serial,
    Characteristic characteristic,
    double effect,
    OptionalDouble modifiedZ,
    double testValue,
    double criticalValue,
    int compared,
    List<Evidence> evidence,
    Optional<Decision> decision) {

  /**
   * One value behind a finding.
   *
   * @param run the run
   * @param cell the cell of that run
   * @param board the board of that run
   * @param value the characteristic's value in that run
   */
  public record Evidence(String run, String cell, String board, double value) {}

  public Finding {
    evidence = List.copyOf(evidence);
  }
}
