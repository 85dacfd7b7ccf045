package lotproof.statistics.gauge;

import java.util.Collection;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * A gauge study: parts by operators by repeats, crossed and balanced, analysed as a two-way random
 * model with interaction.
 *
 * <p>Reading = mean + part + operator + part by operator + repeat, all random. Expected mean
 * squares give: repeat = MSE; interaction = (MSI - MSE)/r; operator = (MSO - MSI)/(p r); part =
 * (MSP - MSI)/(o r). With the interaction pooled, MSI and MSE are replaced by their joint mean
 * square. Measuring variance = repeat + operator + interaction; shares are of standard deviations,
 * of the total over parts and measuring.
 *
 * <p>Whether to pool is decided beforehand or by a stated level of the interaction's test, and the
 * table shows both. Components below zero are shown raw and used as zero.
 *
 * <p>Sources: AIAG, Measurement Systems Analysis, 4th ed., Tables III-B 7 to 9; R. K. Burdick, C.
 * M. Borror and D. C. Montgomery, Design and Analysis of Gauge R and R Studies, 2005 (title page).
 */
public final class GaugeStudy {
  /** The customary factor of the number of distinct categories, as printed; near sqrt(2). */
  static final double CATEGORY_FACTOR = 1.41;

  private final GaugeTable table;
  private final boolean pooled;
  private final AnovaLine part;
  private final AnovaLine operator;
  private final AnovaLine interaction;
  private final AnovaLine repeat;
  private final double totalSumOfSquares;

  private GaugeStudy(GaugeTable table, boolean pooled) {
    this.table = table;
    this.pooled = pooled;
    int p = table.parts();
    int o = table.operators();
    int r = table.repeats();
    double grand = table.grandMean();
    double ssPart = 0;
    for (int i = 0; i < p; i++) {
      ssPart += o * r * square(table.partMean(i) - grand);
    }
    double ssOperator = 0;
    for (int j = 0; j < o; j++) {
      ssOperator += p * r * square(table.operatorMean(j) - grand);
    }
    double ssInteraction = 0;
    double ssRepeat = 0;
    for (int i = 0; i < p; i++) {
      for (int j = 0; j < o; j++) {
        double mean = table.cellMean(i, j);
        ssInteraction += r * square(mean - table.partMean(i) - table.operatorMean(j) + grand);
        for (double value : table.cell(i, j)) {
          ssRepeat += square(value - mean);
        }
      }
    }
    if (!(ssRepeat > 0)) {
      throw new IllegalArgumentException("readings must differ between repeats");
    }
    int dfInteraction = (p - 1) * (o - 1);
    int dfRepeat = p * o * (r - 1);
    double msRepeat = ssRepeat / dfRepeat;
    this.totalSumOfSquares = ssPart + ssOperator + ssInteraction + ssRepeat;
    this.interaction = line(ssInteraction, dfInteraction, msRepeat, dfRepeat);
    this.repeat = new AnovaLine(ssRepeat, dfRepeat, OptionalDouble.empty(), OptionalDouble.empty());
    double msError =
        pooled
            ? (ssInteraction + ssRepeat) / (dfInteraction + dfRepeat)
            : ssInteraction / dfInteraction;
    int dfError = pooled ? dfInteraction + dfRepeat : dfInteraction;
    this.part = line(ssPart, p - 1, msError, dfError);
    this.operator = line(ssOperator, o - 1, msError, dfError);
  }

  private static double square(double value) {
    return value * value;
  }

  private static AnovaLine line(double ss, int df, double msError, int dfError) {
    if (!(msError > 0)) {
      return new AnovaLine(ss, df, OptionalDouble.empty(), OptionalDouble.empty());
    }
    double f = ss / df / msError;
    return new AnovaLine(
        ss,
        df,
        OptionalDouble.of(f),
        OptionalDouble.of(FDistribution.of(df, dfError).survivalProbability(f)));
  }

  /** The analysis that pools where the interaction's probability value exceeds a stated level. */
  public static GaugeStudy poolingAbove(Collection<GaugeReading> readings, double level) {
    Checks.fraction(level, "level");
    GaugeTable table = GaugeTable.of(readings);
    GaugeStudy full = new GaugeStudy(table, false);
    boolean pool = full.interaction.pValue().orElse(0) > level;
    return pool ? new GaugeStudy(table, true) : full;
  }

  /** Whether the interaction was taken as part of the repeats. */
  public boolean interactionPooled() {
    return pooled;
  }

  /** The line of the parts. */
  public AnovaLine part() {
    return part;
  }

  /** The line of the operators. */
  public AnovaLine operator() {
    return operator;
  }

  /** The line of the interaction, always tested against the repeats. */
  public AnovaLine interaction() {
    return interaction;
  }

  /** The line of the repeats, before any pooling. */
  public AnovaLine repeat() {
    return repeat;
  }

  /** The sum of squares of all readings about their mean. */
  public double totalSumOfSquares() {
    return totalSumOfSquares;
  }

  private double errorMeanSquare() {
    return pooled
        ? (interaction.sumOfSquares() + repeat.sumOfSquares()) / errorDf()
        : interaction.meanSquare();
  }

  private int errorDf() {
    return interaction.degreesOfFreedom() + (pooled ? repeat.degreesOfFreedom() : 0);
  }

  /** The component of repeats: readings of one part by one operator. */
  public GaugeComponent repeatability() {
    return new GaugeComponent(pooled ? errorMeanSquare() : repeat.meanSquare());
  }

  /** The component of operators. */
  public GaugeComponent operatorComponent() {
    return new GaugeComponent(
        (operator.meanSquare() - errorMeanSquare()) / (table.parts() * table.repeats()));
  }

  /** The component of the interaction; empty where it was pooled. */
  public Optional<GaugeComponent> interactionComponent() {
    return pooled
        ? Optional.empty()
        : Optional.of(
            new GaugeComponent((interaction.meanSquare() - repeat.meanSquare()) / table.repeats()));
  }

  /** The component of parts. */
  public GaugeComponent partComponent() {
    return new GaugeComponent(
        (part.meanSquare() - errorMeanSquare()) / (table.operators() * table.repeats()));
  }

  /** Variance of measuring: repeats, operators and interaction together. */
  public double measuringVariance() {
    return repeatability().variance()
        + operatorComponent().variance()
        + interactionComponent().map(GaugeComponent::variance).orElse(0.0);
  }

  /** Standard deviation of measuring. */
  public double measuringSd() {
    return Math.sqrt(measuringVariance());
  }

  /** Standard deviation over parts and measuring. */
  public double totalSd() {
    return Math.sqrt(measuringVariance() + partComponent().variance());
  }

  /** Measuring as a share of the total, by standard deviations. */
  public double measuringShare() {
    return measuringSd() / totalSd();
  }

  /** 1.41 part sd / measuring sd: how many kinds of part the measuring tells apart; not rounded. */
  public double distinctCategories() {
    return CATEGORY_FACTOR * partComponent().sd() / measuringSd();
  }

  /**
   * The confidence interval of the standard deviation of measuring: modified large sample over the
   * mean squares, measuring variance = MSO/(p r) + a MSI + b MSE with coefficients of either sign.
   * With two or three operators it is wide, and it should be.
   *
   * <p>Source: Graybill and Wang 1980; N. Ting and others 1990 for negative coefficients (both from
   * memory).
   */
  public Interval measuringInterval(double confidence) {
    double tail = (1 - Checks.fraction(confidence, "confidence")) / 2;
    double pr = table.parts() * (double) table.repeats();
    double r = table.repeats();
    double[] meanSquare;
    double[] df;
    double[] coefficient;
    if (pooled) {
      meanSquare = new double[] {operator.meanSquare(), errorMeanSquare()};
      df = new double[] {operator.degreesOfFreedom(), errorDf()};
      coefficient = new double[] {1 / pr, 1 - 1 / pr};
    } else {
      meanSquare =
          new double[] {operator.meanSquare(), interaction.meanSquare(), repeat.meanSquare()};
      df =
          new double[] {
            operator.degreesOfFreedom(), interaction.degreesOfFreedom(), repeat.degreesOfFreedom()
          };
      coefficient = new double[] {1 / pr, 1 / r - 1 / pr, 1 - 1 / r};
    }
    double estimate = 0;
    double up = 0;
    double down = 0;
    for (int i = 0; i < df.length; i++) {
      double share = coefficient[i] * meanSquare[i];
      estimate += share;
      up += square(share * (df[i] / DistributionQuantiles.chiSquare(df[i], tail) - 1));
      down += square(share * (1 - df[i] / DistributionQuantiles.chiSquareUpper(df[i], tail)));
    }
    return new Interval(
        Math.sqrt(Math.max(0, estimate - Math.sqrt(down))),
        Math.sqrt(estimate + Math.sqrt(up)),
        confidence);
  }
}
