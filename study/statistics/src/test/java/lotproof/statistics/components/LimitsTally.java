package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.apache.commons.rng.UniformRandomProvider;

/**
 * How often the three limits of {@link FutureUnitLimits} (one-sided, about the mean, about zero)
 * hold their content over whole simulated studies.
 */
final class LimitsTally {
  static final long SEED = 20261125;
  static final int STUDIES = Integer.getInteger("guarantee.studies", 2000);
  static final double CONFIDENCE = 0.95;

  /** Lowest long-run confidence that earlier simulations saw in any design. */
  static final double FLOOR = 0.93;

  private final KitPopulation kits;
  private final double mean;
  private final double content;
  private final int[] held = new int[3];
  private final List<List<Double>> widths =
      List.of(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
  private final double[] trueWidths;
  private int studies;
  private int refused;

  private LimitsTally(KitPopulation kits, double mean, double content) {
    this.kits = kits;
    this.mean = mean;
    this.content = content;
    this.trueWidths =
        new double[] {
          kits.quantile(content) - mean, kits.halfWidth(mean, content), kits.halfWidth(0, content)
        };
  }

  /**
   * Simulates and counts.
   *
   * @param name seeds the draws together with {@link #SEED}
   * @param kits true distribution of future kits around the mean
   */
  static LimitsTally over(
      String name,
      SimulatedDesign design,
      Set<Component> excluded,
      KitPopulation kits,
      double mean,
      double content) {
    LimitsTally tally = new LimitsTally(kits, mean, content);
    UniformRandomProvider random = Studies.random(SEED + name.hashCode());
    for (int i = 0; i < STUDIES; i++) {
      FitOutcome outcome = ComponentsFitter.fit(design.draw(random, mean), FitOptions.REML);
      if (outcome instanceof ComponentsFit fit) {
        tally.add(FutureUnitLimits.of(fit, excluded, content, CONFIDENCE));
      } else {
        tally.refused++;
      }
    }
    return tally;
  }

  private void add(FutureUnitLimits limits) {
    studies++;
    double d = limits.twoSidedHalfWidth();
    double a = limits.symmetricHalfWidth();
    hold(0, kits.below(limits.upper()));
    hold(1, kits.below(limits.mean() + d) - kits.below(limits.mean() - d));
    hold(2, kits.below(a) - kits.below(-a));
    widths.get(0).add((limits.upper() - mean) / trueWidths[0]);
    widths.get(1).add(d / trueWidths[1]);
    widths.get(2).add(a / trueWidths[2]);
  }

  private void hold(int claim, double inside) {
    held[claim] += inside >= content ? 1 : 0;
  }

  private double confidence(int claim) {
    return held[claim] / (double) studies;
  }

  private double median(int claim) {
    double[] sorted = widths.get(claim).stream().mapToDouble(v -> v).sorted().toArray();
    return sorted[sorted.length / 2];
  }

  String row(String name, double meanInSds) {
    return String.format(
        Locale.ROOT,
        "| %s | %.2f | %.1f | %.3f | %.3f | %.3f | %.2f / %.2f / %.2f | %d |",
        name,
        content,
        meanInSds,
        confidence(0),
        confidence(1),
        confidence(2),
        median(0),
        median(1),
        median(2),
        refused);
  }

  /** Fails where a claim falls short of a floor by more than chance allows. */
  void check(String name, double floor) {
    double allowed = floor - 3 * Math.sqrt(floor * (1 - floor) / STUDIES);
    for (int claim = 0; claim < 3; claim++) {
      assertThat(confidence(claim)).as(name + " claim " + claim).isGreaterThan(allowed);
    }
    assertThat(refused).isLessThan(STUDIES / 100);
  }
}
