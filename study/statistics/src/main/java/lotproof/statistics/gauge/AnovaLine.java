package lotproof.statistics.gauge;

import java.util.OptionalDouble;

/**
 * One line of an analysis of variance.
 *
 * @param sumOfSquares SS
 * @param degreesOfFreedom df
 * @param statistic F against the line that the model names; absent for error and total
 * @param pValue chance of so large an F; absent with it
 */
public record AnovaLine(
    double sumOfSquares, int degreesOfFreedom, OptionalDouble statistic, OptionalDouble pValue) {

  /** Sum of squares over degrees of freedom. */
  public double meanSquare() {
    return sumOfSquares / degreesOfFreedom;
  }
}
