package lotproof.claim;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.claim.InventedKits.Shape;
import lotproof.claim.premise.Assumption.NotNormal;
import lotproof.claim.premise.Assumption.RestsOnShape;
import lotproof.claim.premise.Assumption.Support;
import lotproof.reduce.ReducedRun;

/**
 * Studies whose units or lots are not normal in shape, and normal ones of the same kinds: how often
 * a figure is wrong, how often without a word on the shape, and how often what kits or lots support
 * without a shape is wrong.
 */
enum ShapeErrors {
  NORMAL_12(0, Shape.NORMAL, 12, 1, 12),
  MINORITY_12(1, Shape.MINORITY, 12, 1, 12),
  HEAPS_12(2, Shape.TWO_HEAPS, 12, 1, 12),
  TAILS_12(3, Shape.HEAVIER_TAILS, 12, 1, 12),
  NORMAL_50(4, Shape.NORMAL, 50, 1, 2),
  MINORITY_50(5, Shape.MINORITY, 50, 1, 2),
  HEAPS_50(6, Shape.TWO_HEAPS, 50, 1, 2),
  TAILS_50(7, Shape.HEAVIER_TAILS, 50, 1, 2),
  NORMAL_60(8, Shape.NORMAL, 60, 1, 2),
  MINORITY_60(9, Shape.MINORITY, 60, 1, 2),
  HEAPS_60(10, Shape.TWO_HEAPS, 60, 1, 2),
  TAILS_60(11, Shape.HEAVIER_TAILS, 60, 1, 2),
  NORMAL_LOTS(12, Shape.NORMAL, 50, 5, 2),
  MINORITY_LOTS(13, Shape.MINORITY_LOTS, 50, 5, 2),
  MINORITY_10_LOTS(14, Shape.MINORITY_LOTS, 50, 10, 2),
  MINORITY_IN_LOTS(15, Shape.MINORITY, 50, 5, 2),
  NORMAL_STRONG_LOTS(16, Shape.NORMAL, 60, 5, 2),
  NORMAL_PAIRS(17, Shape.NORMAL, 50, 1, 1);

  private static final double LOT_SHARE = 0.7;
  private static final int FUTURE = 20_000;

  private final long seeds;
  private final Shape shape;
  private final int units;
  private final int lots;
  private final int passes;

  /** A kind with a number of its own, so that its studies do not change when kinds are added. */
  ShapeErrors(long number, Shape shape, int units, int lots, int passes) {
    this.seeds = 20261201 + 1000 * number;
    this.shape = shape;
    this.units = units;
    this.lots = lots;
    this.passes = passes;
  }

  boolean normal() {
    return shape == Shape.NORMAL;
  }

  String words() {
    return String.format(
        Locale.ROOT,
        "%s, %s%s",
        shape.name().toLowerCase(Locale.ROOT).replace('_', ' '),
        passes == units
            ? units + " x " + units + " crossed"
            : passes == 1 ? units + " pairs" : "rotation of " + units,
        lots > 1 ? ", " + lots + " lots" : "");
  }

  /**
   * What came of studies at level none.
   *
   * @param wrong figures below the true 95 % quantile
   * @param silent those without a word on the shape
   * @param stopped studies without a figure because errors are not normal
   * @param found studies in which errors are called not normal
   * @param supported figures that hold the content that kits or lots support without a shape
   */
  record Count(
      int studies, int figures, int wrong, int silent, int stopped, int found, int supported) {
    String row(String words) {
      return String.format(
          Locale.ROOT,
          "| %s | %d | %d | %d | %d | %d | %d | %d |",
          words,
          studies,
          figures,
          wrong,
          silent,
          found,
          stopped,
          supported);
    }
  }

  Count count(int studies) {
    double share = lots > 1 ? LOT_SHARE : 0;
    List<ReducedRun> future =
        AssumingStudies.future(new InventedKits(99, FUTURE, share, shape), 1, FUTURE);
    Map<Double, Double> quantiles = new HashMap<>();
    int figures = 0;
    int wrong = 0;
    int silent = 0;
    int stopped = 0;
    int found = 0;
    int supported = 0;
    for (int s = 0; s < studies; s++) {
      LevelClaim claim = study(seeds + s, share).ofShapeAlone();
      boolean notNormal = claim.assumptions().stream().anyMatch(NotNormal.class::isInstance);
      Optional<RestsOnShape> rests =
          claim.assumptions().stream()
              .flatMap(a -> a instanceof RestsOnShape r ? Stream.of(r) : Stream.empty())
              .findFirst();
      found += notNormal ? 1 : 0;
      if (claim.figure().isEmpty()) {
        stopped += notNormal ? 1 : 0;
        continue;
      }
      double limit = claim.figure().get().limitGrams();
      double asked = quantile(future, 0.95, quantiles);
      double content =
          rests.flatMap(r -> r.lots().or(r::kits)).map(Support::contentFraction).orElse(0.95);
      figures++;
      wrong += limit < asked ? 1 : 0;
      silent += limit < asked && rests.isEmpty() && !notNormal ? 1 : 0;
      supported += limit >= quantile(future, content, quantiles) ? 1 : 0;
    }
    return new Count(studies, figures, wrong, silent, stopped, found, supported);
  }

  private static double quantile(
      List<ReducedRun> future, double content, Map<Double, Double> known) {
    return known.computeIfAbsent(content, c -> AssumingStudies.quantiles(future, c)[0]);
  }

  private AssumingStudies study(long seed, double share) {
    return new AssumingStudies(seed, units, new InventedKits(seed, lots, share, shape), 1)
        .passes(passes, 20, c -> 0);
  }
}
