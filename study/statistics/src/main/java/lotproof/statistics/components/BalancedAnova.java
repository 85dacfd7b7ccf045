package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * Classical analysis of variance of a balanced layout, nested, crossed or both, with the raw
 * components that may be negative.
 *
 * <p>Definition: every factor splits the observations into groups of equal size, and any two
 * factors are either nested or proportional within the groups of a third one that is coarser than
 * both (or within the whole). Then the sum of squares of factor F is |mean over F|^2 less the sums
 * of all coarser lines, and E(MS_F) = theta_e + sum over the factors G that are F or finer of (n /
 * levels of G) theta_G. Components follow from the finest line upward.
 *
 * <p>Edge cases: an unbalanced layout is refused, as are fixed columns. A negative component is
 * reported raw and cut to zero in the variance; shares add up to 1 after cutting.
 *
 * <p>Where no component is negative these are also the REML estimates. Sources: Tjur (1984), Int.
 * Statist. Rev. 52, for the layouts; Searle, Casella and McCulloch (1992), Variance Components,
 * chapter 4 (both from memory).
 */
public final class BalancedAnova implements AnovaOutcome {
  private final List<AnovaLine> lines;
  private final double mean;

  private BalancedAnova(List<AnovaLine> lines, double mean) {
    this.lines = List.copyOf(lines);
    this.mean = mean;
  }

  /** Lines in the order of the factors, the residual last. */
  public List<AnovaLine> lines() {
    return lines;
  }

  /** One line by name. */
  public AnovaLine line(String name) {
    return lines.stream()
        .filter(line -> line.name().equals(name))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no line is called \"" + name + "\""));
  }

  public double mean() {
    return mean;
  }

  /** Analyses the observations, or says why the layout is not balanced. */
  public static AnovaOutcome analyse(Observations observations) {
    if (!observations.fixedColumns().isEmpty()) {
      return new NotEstimable("The balanced analysis knows no fixed columns; use the fit instead.");
    }
    if (observations.size() < 2) {
      return new NotEstimable("There are fewer than two readings, so there is no spread.");
    }
    AnovaLayout layout = new AnovaLayout(observations.factors(), observations.size());
    Optional<String> unbalanced = layout.imbalance();
    if (unbalanced.isPresent()) {
      return new NotEstimable(unbalanced.get());
    }
    int count = layout.count();
    int[] freedom = new int[count];
    for (int k : layout.coarsestFirst()) {
      freedom[k] = layout.levels(k) - 1;
      for (int g = 0; g < count; g++) {
        freedom[k] -= g != k && layout.finer(k, g) ? freedom[g] : 0;
      }
      if (freedom[k] <= 0) {
        return new NotEstimable(
            "No degrees of freedom are left for " + layout.name(k) + " in this layout.");
      }
    }
    return new BalancedAnova(
        lines(layout, sums(layout, observations), freedom), mean(observations.values()));
  }

  private static double mean(double[] values) {
    double first = Arrays.stream(values).sum() / values.length;
    return first + Arrays.stream(values).map(v -> v - first).sum() / values.length;
  }

  /**
   * Sums of squares line by line. The part of a line is the group mean of what all coarser lines
   * left over, which keeps digits that a difference of large sums would lose.
   */
  private static double[] sums(AnovaLayout layout, Observations observations) {
    double[] left = observations.values();
    double mean = mean(left);
    for (int i = 0; i < left.length; i++) {
      left[i] -= mean;
    }
    double[] sums = new double[layout.count()];
    for (int k : layout.coarsestFirst()) {
      double[] groups = new double[layout.levels(k)];
      double size = left.length / (double) groups.length;
      for (int i = 0; i < left.length; i++) {
        groups[layout.level(k, i)] += left[i] / size;
      }
      for (double group : groups) {
        sums[k] += size * group * group;
      }
      for (int i = 0; i < left.length; i++) {
        left[i] -= groups[layout.level(k, i)];
      }
    }
    return sums;
  }

  private static List<AnovaLine> lines(AnovaLayout layout, double[] sums, int[] freedom) {
    int count = layout.count();
    double[] raw = new double[count];
    int[] order = layout.coarsestFirst();
    double total = 0;
    for (int position = count - 1; position >= 0; position--) {
      int k = order[position];
      double rest = sums[k] / freedom[k];
      for (int g = 0; g < count; g++) {
        rest -= g != k && layout.finer(g, k) ? layout.readingsPerLevel(g) * raw[g] : 0;
      }
      raw[k] = rest / layout.readingsPerLevel(k);
      total += Math.max(0, raw[k]);
    }
    List<AnovaLine> lines = new ArrayList<>();
    for (int k = 0; k < count; k++) {
      double variance = Math.max(0, raw[k]);
      lines.add(
          new AnovaLine(
              layout.name(k),
              sums[k],
              freedom[k],
              raw[k],
              variance,
              total > 0 ? variance / total : 0,
              layout.readingsPerLevel(k),
              test(layout, k, sums, freedom)));
    }
    return lines;
  }

  private static Optional<AnovaLine.RatioTest> test(
      AnovaLayout layout, int k, double[] sums, int[] freedom) {
    for (int g = 0; g < layout.count(); g++) {
      if (g != k && layout.expectationsDifferBy(k, g) && sums[g] > 0) {
        double ratio = sums[k] / freedom[k] / (sums[g] / freedom[g]);
        double probability = FDistribution.of(freedom[k], freedom[g]).survivalProbability(ratio);
        return Optional.of(new AnovaLine.RatioTest(layout.name(g), ratio, probability));
      }
    }
    return Optional.empty();
  }
}
