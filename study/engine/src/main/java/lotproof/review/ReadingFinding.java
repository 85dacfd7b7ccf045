package lotproof.review;

import java.util.List;
import lotproof.study.Provenance;

/**
 * A single reading that stands out from those of other runs at the same step of the run.
 *
 * @param run the run
 * @param cell its cell
 * @param board its board
 * @param step position within the run, counted from 1
 * @param loadKilograms load applied
 * @param deviationGrams indication on the run's own reference line minus the load
 * @param medianGrams median of that over all runs
 * @param test how it was told from the readings of the other runs, at 5 % shared by the steps
 * @param sameUnits deviations at this step in the other runs of its cell or board
 * @param remark what the bench wrote beside the reading; empty when nothing
 * @param source file and row of the reading
 */
public record ReadingFinding(
    String run,
    String cell,
    String board,
    int step,
    double loadKilograms,
    double deviationGrams,
    double medianGrams,
    Finding.OutlierTest test,
    List<Finding.Evidence> sameUnits,
    String remark,
    Provenance source) {
  public ReadingFinding {
    sameUnits = List.copyOf(sameUnits);
  }
}
