package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
 * @param loadKilograms the load
 * @param direction rising or falling
 * @param kits the kits by error, smallest first
 * @param rest what the effects of cell and board leave of each kit, in the order of measuring;
 *     empty where no such model can be fitted or where there are too many kits to look at
 */
public record KitErrors(
    double loadKilograms, Direction direction, List<Kit> kits, List<Rest> rest) {
  /** Beyond this many kits a map of residuals cannot be read. */
  private static final int MOST_ON_A_MAP = 200;

  /**
   * A tested kit.
   *
   * @param cell serial of the cell
   * @param board serial of the board
   * @param errorGrams mean error over its runs
   * @param normalQuantile the standard normal quantile that its rank i of n stands for: of (i -
   *     3/8) / (n + 1/4) (Blom 1958, from memory)
   */
  public record Kit(String cell, String board, double errorGrams, double normalQuantile) {}

  /**
   * What is left of a kit.
   *
   * @param cell serial of the cell
   * @param board serial of the board
   * @param restGrams its error minus the mean and the predicted effects of its cell, its board and
   *     their lots, mean over its runs
   */
  public record Rest(String cell, String board, double restGrams) {}

  public KitErrors {
    kits = List.copyOf(kits);
    rest = List.copyOf(rest);
  }

  /** The kits behind a figure; empty without a figure or a run. */
  public static Optional<KitErrors> of(Study study, LevelClaim claim) {
    if (claim.figure().isEmpty() || claim.curves().isEmpty()) {
      return Optional.empty();
    }
    LevelOutcome.Figure figure = claim.figure().get();
    LevelOutcome.PointLimit point = figure.worst();
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
    List<Kit> kits = shown ? kits(curves, errors) : List.of();
    List<Rest> rest = kits.size() > MOST_ON_A_MAP ? List.of() : rest(study, curves, errors);
    return Optional.of(new KitErrors(point.loadKilograms(), point.direction(), kits, rest));
  }

  private record Mean(String cell, String board, double grams) {}

  /** The mean of the runs of each pair, in the order of their first runs. */
  private static List<Mean> means(List<ErrorCurve> curves, double[] values) {
    Map<String, List<Integer>> runsOf = new LinkedHashMap<>();
    for (int i = 0; i < curves.size(); i++) {
      runsOf.computeIfAbsent(curves.get(i).pair(), pair -> new ArrayList<>()).add(i);
    }
    List<Mean> means = new ArrayList<>();
    for (List<Integer> runs : runsOf.values()) {
      ErrorCurve first = curves.get(runs.get(0));
      double mean = runs.stream().mapToDouble(i -> values[i]).average().orElseThrow();
      means.add(new Mean(first.cell(), first.board(), mean));
    }
    return means;
  }

  private static List<Kit> kits(List<ErrorCurve> curves, List<Double> errors) {
    List<Mean> ordered = means(curves, errors.stream().mapToDouble(v -> v).toArray());
    ordered.sort(Comparator.comparingDouble(Mean::grams));
    int n = ordered.size();
    List<Kit> kits = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      Mean mean = ordered.get(i);
      double quantile = DistributionQuantiles.normal((i + 1 - 0.375) / (n + 0.25));
      kits.add(new Kit(mean.cell(), mean.board(), mean.grams(), quantile));
    }
    return kits;
  }

  private static List<Rest> rest(Study study, List<ErrorCurve> curves, List<Double> errors) {
    MeasuredValues values = new StudySpread(study).errors(curves, errors);
    FactorPlan plan = FactorPlan.of(values).withoutPairing();
    if (!(plan.roles().contains(Role.CELL) && plan.roles().contains(Role.BOARD))) {
      return List.of();
    }
    if (plan.fit(values) instanceof ComponentsFit fit) {
      List<Rest> rest = new ArrayList<>();
      for (Mean mean : means(curves, BestLinearPredictors.residuals(fit).values())) {
        rest.add(new Rest(mean.cell(), mean.board(), mean.grams()));
      }
      return rest;
    }
    return List.of();
  }
}
