package lotproof.claim;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
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
    Set<String> names = new HashSet<>();
    units.forEach(run -> names.add(run.name()));
    this.checks.forEach(check -> names.add(check.run().name()));
    Map<String, LoadRun> corrected = new HashMap<>();
    units.forEach(run -> corrected.put(run.name(), run));
    this.all =
        LotsInTime.inOrder(
            recorded.stream()
                .filter(run -> names.contains(run.name()))
                .map(run -> corrected.getOrDefault(run.name(), run))
                .toList());
  }

  /** What may hide of the lots of one kind at a level. */
  Drift hidden(UnitKind kind, CalibrationLevel level, Optional<TemperatureEffect> correction) {
    boolean checked = study.units().checkStandard().isPresent();
    List<ErrorCurve> curves =
        checked ? LevelCurves.curves(study, checks, level, correction) : List.of();
    if (curves.size() < FEWEST_CHECK_RUNS) {
      return new Drift.FewCheckRuns(curves.size(), FEWEST_CHECK_RUNS);
    }
    Map<String, Integer> checkOf = new LinkedHashMap<>();
    curves.forEach(curve -> checkOf.put(curve.run(), checkOf.size()));
    Optional<String> unchecked = uncheckedSession(kind, checkOf.keySet());
    if (unchecked.isPresent()) {
      return new Drift.UncheckedSession(unchecked.get());
    }
    ErrorsInClaimForm judged = ErrorsInClaimForm.of(curves, study.claim().form());
    List<Integer> order = new ArrayList<>();
    List<Integer> places = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      Integer check = checkOf.get(all.get(i).name());
      if (check != null) {
        order.add(check);
        places.add(i);
      }
    }
    double[][] weights = contrasts(LotsInTime.positions(study, kind, all).values(), places);
    double largest = 0;
    for (int p = 0; p < judged.size(); p++) {
      double[] at = judged.at(p);
      double[] values = order.stream().mapToDouble(check -> at[check]).toArray();
      largest = Math.max(largest, hidden(weights, values));
    }
    return new Drift.Bounded(largest);
  }

  private Optional<String> uncheckedSession(UnitKind kind, Set<String> checkNames) {
    List<String> sessions = LotsInTime.sessions(all);
    Set<String> checked = new HashSet<>();
    for (int i = 0; i < all.size(); i++) {
      if (checkNames.contains(all.get(i).name())) {
        checked.add(sessions.get(i));
      }
    }
    return LotsInTime.positions(study, kind, all).values().stream()
        .flatMap(List::stream)
        .map(sessions::get)
        .filter(session -> !checked.contains(session))
        .findFirst();
  }

  /** For each lot the weights of the check runs in its difference from the mean of lots. */
  static double[][] contrasts(Collection<List<Integer>> lots, List<Integer> checks) {
    double[][] weights = new double[lots.size()][checks.size()];
    int lot = 0;
    for (List<Integer> runs : lots) {
      for (int run : runs) {
        int next = 0;
        while (next < checks.size() && checks.get(next) < run) {
          next++;
        }
        int after = Math.min(next, checks.size() - 1);
        int before = Math.max(0, next - 1);
        double gap = checks.get(after) - checks.get(before);
        double share = gap > 0 ? Math.max(0, run - checks.get(before)) / gap : 1;
        share = Math.min(1, share);
        weights[lot][after] += share / runs.size();
        weights[lot][before] += (1 - share) / runs.size();
      }
      lot++;
    }
    for (int j = 0; j < checks.size(); j++) {
      int column = j;
      double mean =
          IntStream.range(0, weights.length)
              .mapToDouble(l -> weights[l][column])
              .average()
              .orElse(0);
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
    double largest = 0;
    for (double[] row : weights) {
      double difference = 0;
      double norm = 0;
      for (int j = 0; j < m; j++) {
        difference += row[j] * values[j];
        norm += row[j] * row[j];
      }
      largest = Math.max(largest, Math.abs(difference) + t * sd * Math.sqrt(norm));
    }
    return largest;
  }
}
