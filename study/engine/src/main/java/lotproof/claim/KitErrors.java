package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.StudySpread;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.ComponentsFit;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/**
 * Errors of the tested kits at the load where errors are widest, held against what the model
 * expects: a normal distribution, and nothing left once cell and board are known.
 *
 * @param kits the kits by error, smallest first
 * @param rest what the mean and the predicted effects of cell, board and their lots leave of each
 *     kit, in the order of measuring; empty where no such model can be fitted or where there are
 *     too many kits to look at
 */
public record KitErrors(
    double loadKilograms, Direction direction, List<Kit> kits, List<KitMean> rest) {
  /** Beyond this many kits a map of residuals cannot be read. */
  private static final int MOST_ON_A_MAP = 200;

  /** Of a tested kit the mean over its runs. */
  public record KitMean(String cell, String board, double grams) {}

  /**
   * A tested kit.
   *
   * @param normalQuantile the standard normal quantile that its rank i of n stands for: of (i -
   *     3/8) / (n + 1/4) (Blom 1958, from memory)
   */
  public record Kit(KitMean error, double normalQuantile) {}

  public KitErrors {
    kits = List.copyOf(kits);
    rest = List.copyOf(rest);
  }

  /** The kits behind a figure; empty without a figure or a run. */
  public static Optional<KitErrors> of(Study study, LevelClaim claim) {
    if (claim.figure().isEmpty() || claim.curves().isEmpty()) {
      return Optional.empty();
    }
    LevelOutcome.PointLimit point = claim.figure().get().worst();
    List<ErrorCurve> curves = new ArrayList<>();
    List<Double> errors = new ArrayList<>();
    for (ErrorCurve curve : SubjectRuns.of(study, claim.curves())) {
      curve
          .at(point.loadKilograms(), point.direction())
          .ifPresent(
              p -> {
                curves.add(curve);
                errors.add(p.errorGrams());
              });
    }
    // kits do not show what the model says of one of their halves
    boolean shown =
        study.claim().subject() == ClaimRequest.Subject.KIT || SubjectRuns.onPartner(study);
    List<Kit> kits = shown ? kits(means(curves, errors)) : List.of();
    List<KitMean> rest = kits.size() > MOST_ON_A_MAP ? List.of() : rest(study, curves, errors);
    return Optional.of(new KitErrors(point.loadKilograms(), point.direction(), kits, rest));
  }

  /** The mean of the runs of each pair, in the order of their first runs. */
  private static List<KitMean> means(List<ErrorCurve> curves, List<Double> values) {
    Map<String, List<Integer>> runsOf = new LinkedHashMap<>();
    for (int i = 0; i < curves.size(); i++) {
      runsOf.computeIfAbsent(curves.get(i).pair(), pair -> new ArrayList<>()).add(i);
    }
    List<KitMean> means = new ArrayList<>();
    for (List<Integer> runs : runsOf.values()) {
      ErrorCurve first = curves.get(runs.get(0));
      double mean = runs.stream().mapToDouble(values::get).average().orElseThrow();
      means.add(new KitMean(first.cell(), first.board(), mean));
    }
    return means;
  }

  private static List<Kit> kits(List<KitMean> means) {
    List<KitMean> ordered = new ArrayList<>(means);
    ordered.sort(Comparator.comparingDouble(KitMean::grams));
    int n = ordered.size();
    return IntStream.range(0, n)
        .mapToObj(
            i ->
                new Kit(ordered.get(i), DistributionQuantiles.normal((i + 1 - 0.375) / (n + 0.25))))
        .toList();
  }

  private static List<KitMean> rest(Study study, List<ErrorCurve> curves, List<Double> errors) {
    MeasuredValues values = new StudySpread(study).errors(curves, errors);
    FactorPlan plan = FactorPlan.of(values).withoutPairing();
    return plan.roles().containsAll(List.of(Role.CELL, Role.BOARD))
            && plan.fit(values) instanceof ComponentsFit fit
        ? means(
            curves, Arrays.stream(BestLinearPredictors.residuals(fit).values()).boxed().toList())
        : List.of();
  }
}
