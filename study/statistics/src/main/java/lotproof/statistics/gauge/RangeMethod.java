package lotproof.statistics.gauge;

import java.util.Collection;

/**
 * The average-and-range analysis of a gauge study: kept because printed sheets use it, so that a
 * result can be held against one. It cannot see an interaction and uses less of the data than
 * {@link GaugeStudy}.
 *
 * <p>EV = mean range / d2(r); AV = sqrt((range of operator means / d2*(o))² - EV²/(p r)), at least
 * 0; PV = range of part means / d2*(p). The constants are computed, not taken from rounded tables.
 *
 * <p>Source: AIAG, Measurement Systems Analysis, 4th ed., Figures III-B 15 and 16.
 *
 * @param meanRange mean over all cells of the range of repeats
 * @param operatorRange range of the operator means
 * @param partRange range of the part means
 * @param rangeLimit upper limit of a single range
 * @param repeatability EV
 * @param reproducibility AV
 * @param parts PV
 */
public record RangeMethod(
    double meanRange,
    double operatorRange,
    double partRange,
    double rangeLimit,
    double repeatability,
    double reproducibility,
    double parts) {

  /** The analysis of a crossed, balanced study. */
  public static RangeMethod of(Collection<GaugeReading> readings) {
    GaugeTable table = GaugeTable.of(readings);
    int p = table.parts();
    int o = table.operators();
    double ranges = 0;
    double[] partMeans = new double[p];
    double[] operatorMeans = new double[o];
    for (int i = 0; i < p; i++) {
      partMeans[i] = table.partMean(i);
      for (int j = 0; j < o; j++) {
        ranges += range(table.cell(i, j));
      }
    }
    for (int j = 0; j < o; j++) {
      operatorMeans[j] = table.operatorMean(j);
    }
    double meanRange = ranges / (p * o);
    RangeConstants repeats = RangeConstants.of(table.repeats());
    double ev = meanRange / repeats.mean();
    double operatorRange = range(operatorMeans);
    double raw = operatorRange / RangeConstants.of(o).meanForRanges(1);
    double av = Math.sqrt(Math.max(0, raw * raw - ev * ev / ((double) p * table.repeats())));
    double partRange = range(partMeans);
    return new RangeMethod(
        meanRange,
        operatorRange,
        partRange,
        meanRange * repeats.upperLimitFactor(),
        ev,
        av,
        partRange / RangeConstants.of(p).meanForRanges(1));
  }

  private static double range(double[] values) {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (double value : values) {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
    return most - least;
  }

  /** Standard deviation of measuring. */
  public double measuring() {
    return Math.hypot(repeatability, reproducibility);
  }

  /** Standard deviation over parts and measuring. */
  public double total() {
    return Math.hypot(measuring(), parts);
  }

  /** 1.41 PV / measuring; not rounded. */
  public double distinctCategories() {
    return 1.41 * parts / measuring();
  }
}
