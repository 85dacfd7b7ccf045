package lotproof.statistics.components;

import java.util.Arrays;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.FoldedNormal;

/** The true distribution of future kits, which a simulated study does not know. */
interface KitPopulation {
  /** Fraction of kits below a value. */
  double below(double value);

  /** Value that this fraction of kits lies below. */
  double quantile(double fraction);

  /** Half-width around a centre that holds this fraction of kits. */
  double halfWidth(double centre, double fraction);

  /** Normal kits. */
  record Normal(double mean, double sd) implements KitPopulation {
    @Override
    public double below(double value) {
      return DistributionQuantiles.NORMAL.cumulativeProbability((value - mean) / sd);
    }

    @Override
    public double quantile(double fraction) {
      return mean + DistributionQuantiles.normal(fraction) * sd;
    }

    @Override
    public double halfWidth(double centre, double fraction) {
      return FoldedNormal.halfWidth(mean - centre, sd, fraction);
    }
  }

  /** Very many drawn kits, for distributions without a formula. */
  static KitPopulation drawn(double[] kits) {
    double[] sorted = kits.clone();
    Arrays.sort(sorted);
    return new KitPopulation() {
      @Override
      public double below(double value) {
        int at = Arrays.binarySearch(sorted, value);
        return (at < 0 ? -at - 1 : at) / (double) sorted.length;
      }

      @Override
      public double quantile(double fraction) {
        return sorted[(int) Math.ceil(fraction * sorted.length) - 1];
      }

      @Override
      public double halfWidth(double centre, double fraction) {
        double[] sizes = Arrays.stream(sorted).map(v -> Math.abs(v - centre)).sorted().toArray();
        return sizes[(int) Math.ceil(fraction * sizes.length) - 1];
      }
    };
  }
}
