package lotproof.claim;

import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.evidence.TemperatureEffect;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.LotsInTime;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.DistributionQuantiles;
import lotproof.study.CalibrationLevel;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealVector;

/**
 * What a drift of the bench may hide of how lots differ, by the runs of the check standard
 * (docs/method.md, "Lots and time"). The bench at the time of a run is the check standard's error
 * curve, in a straight line between its runs before and after; that of a lot is the mean over the
 * lot's runs. What may hide is the largest difference of a lot's from the mean of all lots, plus
 * its uncertainty. A construction of this program.
 */
final class LotDrift {
  /** Fewer runs of the check standard say too little. */
  static final int FEWEST_CHECK_RUNS = 4;

  /** A larger share of the figure hidden leaves too little that is known of lots. */
  static final double LARGEST_SHARE = 0.2;

  private final Study study;
  private final List<ReducedRun> checks;
  private final List<LoadRun> all;

  /**
   * A bench and its check standard.
   *
   * @param units runs that figures rest on
   * @param checks runs of the check standard
   * @param recorded all runs in the order of the record
   */
  LotDrift(Study study, List<LoadRun> units, List<ReducedRun> checks, List<LoadRun> recorded) {
    this.study = study;
    this.checks =
        checks.stream()
            .filter(c -> c.run().loadsKilograms().equals(study.design().loadsKilograms()))
            .toList();
    // runs of units with the decided corrections
    Map<String, LoadRun> byName = new HashMap<>();
    this.checks.forEach(check -> byName.put(check.run().name(), check.run()));
    units.forEach(run -> byName.put(run.name(), run));
    this.all =
        LotsInTime.inOrder(
            recorded.stream()
                .map(LoadRun::name)
                .map(byName::get)
                .filter(Objects::nonNull)
                .toList());
  }

  /** What may hide of the lots of one kind at a level. */
  Drift hidden(UnitKind kind, CalibrationLevel level, Optional<TemperatureEffect> correction) {
    List<ErrorCurve> curves = LevelCurves.curves(study, checks, level, correction);
    if (curves.size() < FEWEST_CHECK_RUNS) {
      return new Drift.FewCheckRuns(curves.size(), FEWEST_CHECK_RUNS);
    }
    List<String> names = all.stream().map(LoadRun::name).toList();
    List<ErrorCurve> inOrder =
        curves.stream()
            .sorted(Comparator.comparingInt((ErrorCurve c) -> names.indexOf(c.run())))
            .toList();
    List<Integer> places = inOrder.stream().map(c -> names.indexOf(c.run())).toList();
    Collection<List<Integer>> lots = LotsInTime.positions(study, kind, all).values();
    List<String> sessions = LotsInTime.sessions(all);
    Set<String> checked = places.stream().map(sessions::get).collect(Collectors.toSet());
    Optional<String> unchecked =
        lots.stream()
            .flatMap(List::stream)
            .map(sessions::get)
            .filter(session -> !checked.contains(session))
            .findFirst();
    if (unchecked.isPresent()) {
      return new Drift.UncheckedSession(unchecked.get());
    }
    double[][] weights = contrasts(lots, places);
    return new Drift.Bounded(
        Arrays.stream(ErrorsInClaimForm.of(inOrder, study.claim().form()).byPoint())
            .mapToDouble(values -> hidden(weights, values))
            .max()
            .orElse(0));
  }

  /** For each lot the weights of the check runs in its difference from the mean of lots. */
  static double[][] contrasts(Collection<List<Integer>> lots, List<Integer> checks) {
    double[][] weights = new double[lots.size()][checks.size()];
    int lot = 0;
    for (List<Integer> runs : lots) {
      for (int run : runs) {
        int next = (int) checks.stream().filter(check -> check < run).count();
        int after = Math.min(next, checks.size() - 1);
        int before = Math.max(0, next - 1);
        double gap = checks.get(after) - checks.get(before);
        double share = gap > 0 ? Math.min(1, Math.max(0, run - checks.get(before)) / gap) : 1;
        weights[lot][after] += share / runs.size();
        weights[lot][before] += (1 - share) / runs.size();
      }
      lot++;
    }
    for (int j = 0; j < checks.size(); j++) {
      int column = j;
      double mean = Arrays.stream(weights).mapToDouble(row -> row[column]).average().orElse(0);
      for (double[] row : weights) {
        row[column] -= mean;
      }
    }
    return weights;
  }

  /**
   * The largest |difference| of a lot plus Student's t times its standard error. The variance of a
   * check run is that of successive differences (von Neumann 1941), which a slow drift hardly
   * widens, with 2 (m - 1)^2 / (3 m - 4) degrees of freedom.
   */
  private double hidden(double[][] weights, double[] values) {
    int m = values.length;
    double squares = 0;
    for (int j = 1; j < m; j++) {
      squares += (values[j] - values[j - 1]) * (values[j] - values[j - 1]);
    }
    double sd = Math.sqrt(squares / (2 * (m - 1)));
    double df = 2.0 * (m - 1) * (m - 1) / (3 * m - 4);
    double beyond = (1 - study.claim().confidence()) / (2 * weights.length);
    double t = DistributionQuantiles.studentUpper(df, beyond);
    RealVector at = new ArrayRealVector(values);
    double largest = 0;
    for (double[] row : weights) {
      RealVector contrast = new ArrayRealVector(row);
      largest = Math.max(largest, Math.abs(contrast.dotProduct(at)) + t * sd * contrast.getNorm());
    }
    return largest;
  }
}
