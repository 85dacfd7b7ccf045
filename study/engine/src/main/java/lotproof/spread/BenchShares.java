package lotproof.spread;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.model.FactorPlan;
import lotproof.model.GroupedValues;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.SpreadOutcome.BenchShare;
import lotproof.statistics.Interval;
import lotproof.statistics.gauge.GaugeStudy;
import lotproof.study.Characteristic.Limits;
import tech.tablesaw.api.DoubleColumn;

/** What repeats of the same kit say of the bench. */
final class BenchShares {
  /** From this chance on the interaction of kit and block is pooled with the repeats. */
  private static final double POOLING_LEVEL = 0.25;

  private BenchShares() {}

  /** Values of each kit, in order; a kit is a pair, or a unit where only one kind is known. */
  static Map<String, DoubleColumn> valuesByKit(MeasuredValues values) {
    return GroupedValues.of(kitLabels(values), values.array());
  }

  private static List<String> kitLabels(MeasuredValues values) {
    Optional<List<String>> cells = values.labelsOf(Role.CELL);
    Optional<List<String>> boards = values.labelsOf(Role.BOARD);
    return cells.isPresent() && boards.isPresent()
        ? FactorPlan.labels(values, Role.PAIR)
        : cells.or(() -> boards).orElse(List.of());
  }

  /**
   * The bench's share, if kits were repeated: by a crossed analysis where every kit was measured
   * equally often in every stretch of the one block, otherwise by the pooled variance within kits.
   */
  static Optional<BenchShare> of(
      MeasuredValues values, double totalSd, Optional<Limits> limits, double confidence) {
    return crossed(values)
        .map(study -> of(study, limits, confidence))
        .or(() -> pooled(values, totalSd, limits, confidence));
  }

  private static Optional<BenchShare> pooled(
      MeasuredValues values, double totalSd, Optional<Limits> limits, double confidence) {
    double squares = 0;
    int df = 0;
    for (DoubleColumn kit : valuesByKit(values).values()) {
      squares += kit.subtract(kit.mean()).sumOfSquares();
      df += kit.size() - 1;
    }
    if (df == 0 || !(squares > 0) || !(totalSd > 0)) {
      return Optional.empty();
    }
    double sd = Math.sqrt(squares / df);
    double kits = Math.sqrt(Math.max(0, totalSd * totalSd - sd * sd));
    return Optional.of(
        new BenchShare(
            df,
            sd,
            Interval.ofStandardDeviation(sd, df, confidence),
            OptionalDouble.empty(),
            Math.min(1, sd / totalSd),
            shareOfTolerance(sd, limits),
            GaugeStudy.CATEGORY_FACTOR * kits / sd));
  }

  private static BenchShare of(GaugeStudy study, Optional<Limits> limits, double confidence) {
    double interaction = study.interactionComponent().map(c -> c.variance()).orElse(0.0);
    return new BenchShare(
        study.repeat().degreesOfFreedom(),
        study.measuringSd(),
        study.measuringInterval(confidence),
        OptionalDouble.of(Math.sqrt(study.operatorComponent().variance() + interaction)),
        study.measuringShare(),
        shareOfTolerance(study.measuringSd(), limits),
        study.distinctCategories());
  }

  private static OptionalDouble shareOfTolerance(double sd, Optional<Limits> limits) {
    return limits.isPresent()
            && limits.get().lower().isPresent()
            && limits.get().upper().isPresent()
        ? OptionalDouble.of(
            6 * sd / (limits.get().upper().getAsDouble() - limits.get().lower().getAsDouble()))
        : OptionalDouble.empty();
  }

  /** A crossed and balanced study of kits by the stretches of the only block. */
  private static Optional<GaugeStudy> crossed(MeasuredValues values) {
    List<String> kits = kitLabels(values);
    if (values.influences().size() != 1
        || !(values.influences().get(0) instanceof KnownInfluence.Block block)
        || kits.isEmpty()) {
      return Optional.empty();
    }
    List<String> stretches = block.labels();
    Map<List<String>, Integer> counts = new HashMap<>();
    List<GaugeStudy.Reading> readings = new ArrayList<>();
    for (int i = 0; i < kits.size(); i++) {
      counts.merge(List.of(kits.get(i), stretches.get(i)), 1, Integer::sum);
      readings.add(new GaugeStudy.Reading(kits.get(i), stretches.get(i), values.values().get(i)));
    }
    long kitCount = kits.stream().distinct().count();
    long stretchCount = stretches.stream().distinct().count();
    boolean balanced =
        counts.size() == kitCount * stretchCount
            && counts.values().stream().distinct().count() == 1;
    boolean enough =
        kitCount >= 2 && stretchCount >= 2 && kits.size() >= 2 * kitCount * stretchCount;
    return balanced && enough
        ? Optional.of(GaugeStudy.poolingAbove(readings, POOLING_LEVEL))
        : Optional.empty();
  }
}
