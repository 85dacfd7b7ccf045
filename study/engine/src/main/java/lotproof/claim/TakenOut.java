package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import lotproof.model.FactorPlan;
import lotproof.model.GroupedValues;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.review.DecidedRuns;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.outliers.TakenExtremes;
import lotproof.study.Decision;
import lotproof.study.Decision.Target;
import lotproof.study.Study;

/**
 * How many of a kind decisions took out, and whether these are the extremes of a calibration level.
 *
 * <p>A cell or board is as far as its predicted effect, lot included, from the mean of its kind, a
 * run as far as its error from the mean of all runs: before anything was taken out, at the load
 * where the limit is widest. Taken out at random, as many are among the farthest with the chance of
 * the hypergeometric distribution. It accuses nobody: a damaged cell is far off, too.
 *
 * @param kind cells, boards, or runs that were taken out one by one
 * @param count how many of them were taken out
 * @param measured how many were measured
 * @param farthest how many of those taken out are among the {@code count} farthest
 * @param chance of as many or more of them, taken out at random
 */
public record TakenOut(Target kind, int count, int measured, int farthest, double chance) {
  /** Taken out at random, a level is said to have lost its extremes no more often than this. */
  public static final double LEVEL = 0.01;

  /** Whether so many of the farthest are hardly there by chance. */
  public boolean extremes() {
    return chance <= LEVEL / Target.values().length;
  }

  /** The share of its kind, in 0..1. */
  public double shareFraction() {
    return count / (double) measured;
  }

  /**
   * What was taken out at one level; only kinds of which something was.
   *
   * @param before the level before anything was taken out
   * @param removed names of runs that no longer count at this level
   * @param excluded runs that decisions took out
   */
  static List<TakenOut> of(
      Study study, LevelClaim before, Set<String> removed, List<DecidedRuns.Excluded> excluded) {
    List<TakenOut> all = new ArrayList<>();
    List<ErrorCurve> curves = before.curves();
    for (Target kind : Target.values()) {
      Set<String> out =
          excluded.stream()
              .filter(e -> removed.contains(e.run().name()) && kindOf(e.decision()) == kind)
              .map(
                  e ->
                      switch (kind) {
                        case CELL -> e.run().cell();
                        case BOARD -> e.run().board();
                        case RUN -> e.run().name();
                      })
              .collect(Collectors.toSet());
      if (!out.isEmpty()) {
        all.add(of(kind, out, distances(study, kind, curves, errors(before))));
      }
    }
    return all;
  }

  private static Target kindOf(Decision decision) {
    return decision.action() == Decision.Action.RE_MEASURED ? Target.RUN : decision.target();
  }

  private static TakenOut of(Target kind, Set<String> out, Map<String, Double> distances) {
    List<String> names = List.copyOf(distances.keySet());
    TakenExtremes found =
        TakenExtremes.of(
            names.stream()
                .mapToDouble(name -> Objects.requireNonNull(distances.get(name)))
                .toArray(),
            out.stream().map(names::indexOf).collect(Collectors.toSet()));
    return new TakenOut(kind, found.count(), found.total(), found.farthest(), found.chance());
  }

  /** The error of each run where the limit is widest; the largest one where there is no figure. */
  private static List<Double> errors(LevelClaim claim) {
    return claim.curves().stream()
        .map(
            curve ->
                claim
                    .figure()
                    .map(LevelOutcome.Figure::worst)
                    .flatMap(worst -> curve.at(worst.loadKilograms(), worst.direction()))
                    .map(ErrorCurve.Point::errorGrams)
                    .orElseGet(() -> curve.largestGrams(claim.form())))
        .toList();
  }

  /** How far each of a kind lies from the mean, by name. */
  private static Map<String, Double> distances(
      Study study, Target kind, List<ErrorCurve> curves, List<Double> errors) {
    if (kind == Target.RUN) {
      return fromMean(curves, errors, ErrorCurve::run);
    }
    MeasuredValues values = new StudySpread(study).errors(curves, errors);
    FactorPlan plan = FactorPlan.of(values).withoutPairing();
    Role role = kind == Target.CELL ? Role.CELL : Role.BOARD;
    Map<String, Double> distances =
        plan.roles().contains(role) && plan.fit(values) instanceof ComponentsFit fit
            ? predicted(fit, values, role)
            : Map.of();
    return distances.values().stream().anyMatch(d -> d > 0)
        ? distances
        : fromMean(curves, errors, kind == Target.CELL ? ErrorCurve::cell : ErrorCurve::board);
  }

  private static Map<String, Double> predicted(
      ComponentsFit fit, MeasuredValues values, Role role) {
    Role lot = role == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
    List<String> names = FactorPlan.labels(values, role);
    Map<String, Double> sums = new HashMap<>();
    for (FactorEffects effects : BestLinearPredictors.predict(fit)) {
      boolean own = effects.component().equals(role.component());
      if (own || effects.component().equals(lot.component())) {
        List<String> labels = FactorPlan.labels(values, own ? role : lot);
        Map<String, Integer> levels = new LinkedHashMap<>();
        labels.forEach(label -> levels.putIfAbsent(label, levels.size()));
        Map<String, String> labelOf = new LinkedHashMap<>();
        for (int i = 0; i < names.size(); i++) {
          labelOf.putIfAbsent(names.get(i), labels.get(i));
        }
        labelOf.forEach(
            (name, label) ->
                sums.merge(
                    name,
                    effects.effects()[Objects.requireNonNull(levels.get(label))],
                    Double::sum));
      }
    }
    sums.replaceAll((name, effect) -> Math.abs(effect));
    return sums;
  }

  private static Map<String, Double> fromMean(
      List<ErrorCurve> curves, List<Double> errors, Function<ErrorCurve, String> name) {
    double[] all = errors.stream().mapToDouble(error -> error).toArray();
    double mean = Arrays.stream(all).average().orElse(0);
    Map<String, Double> distances = new HashMap<>();
    GroupedValues.of(curves.stream().map(name).toList(), all)
        .forEach((key, own) -> distances.put(key, Math.abs(own.mean() - mean)));
    return distances;
  }
}
