package lotproof.statistics.gauge;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.statistics.Checks;
import lotproof.statistics.Interval;
import lotproof.statistics.ModifiedLargeSample;
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
 * <p>Whether to pool is decided by a stated level of the interaction's test. Components below zero
 * are shown raw and used as zero.
 *
 * <p>Sources: AIAG, Measurement Systems Analysis, 4th ed., Tables III-B 7 to 9; R. K. Burdick, C.
 * M. Borror and D. C. Montgomery, Design and Analysis of Gauge R and R Studies, 2005 (title page).
 */
public final class GaugeStudy {
  /** The customary factor of the number of distinct categories, as printed; near sqrt(2). */
  public static final double CATEGORY_FACTOR = 1.41;

  /**
   * One reading.
   *
   * @param part the item that was measured
   * @param operator who, or which bench, measured it
   * @param value what was read
   */
  public record Reading(String part, String operator, double value) {
    public Reading {
      if (part.isBlank() || operator.isBlank()) {
        throw new IllegalArgumentException("part and operator must not be blank");
      }
      Checks.finite(value, "value");
    }
  }

  /** One line of the analysis of variance. */
  public record Line(double sumOfSquares, int degreesOfFreedom) {
    /** Sum of squares over degrees of freedom. */
    public double meanSquare() {
      return sumOfSquares / degreesOfFreedom;
    }

    /** Chance of so large a ratio of the mean square to that of another line. */
    public double pValueAgainst(Line other) {
      return FDistribution.of(degreesOfFreedom, other.degreesOfFreedom)
          .survivalProbability(meanSquare() / other.meanSquare());
    }

    private Line plus(Line other) {
      return new Line(sumOfSquares + other.sumOfSquares, degreesOfFreedom + other.degreesOfFreedom);
    }
  }

  /**
   * A component of variance as the mean squares give it.
   *
   * @param rawVariance the difference of mean squares; negative values occur by chance
   */
  public record Component(double rawVariance) {
    /** The variance used further: the raw one, or zero where that is negative. */
    public double variance() {
      return Math.max(0, rawVariance);
    }

    /** The standard deviation belonging to {@link #variance()}. */
    public double sd() {
      return Math.sqrt(variance());
    }
  }

  private final int parts;
  private final int operators;
  private final int repeats;
  final Line part;
  final Line operator;

  /** Tested against the repeats. */
  final Line interaction;

  private final Line repeat;

  /** What parts and operators are compared with, and what stands for the repeats. */
  private final Line error;

  private final boolean pooled;

  private GaugeStudy(double[][][] cells, double level) {
    this.parts = cells.length;
    this.operators = cells[0].length;
    this.repeats = cells[0][0].length;
    double[] ofPart = new double[parts];
    double[] ofOperator = new double[operators];
    double[][] ofCell = new double[parts][operators];
    double grand = 0;
    double ssRepeat = 0;
    for (int i = 0; i < parts; i++) {
      for (int j = 0; j < operators; j++) {
        double mean = 0;
        for (double value : cells[i][j]) {
          mean += value / repeats;
        }
        for (double value : cells[i][j]) {
          ssRepeat += square(value - mean);
        }
        ofCell[i][j] = mean;
        ofPart[i] += mean / operators;
        ofOperator[j] += mean / parts;
        grand += mean / operators / parts;
      }
    }
    if (!(ssRepeat > 0)) {
      throw new IllegalArgumentException("readings must differ between repeats");
    }
    double ssPart = 0;
    double ssOperator = 0;
    double ssInteraction = 0;
    for (int i = 0; i < parts; i++) {
      for (int j = 0; j < operators; j++) {
        ssPart += repeats * square(ofPart[i] - grand);
        ssOperator += repeats * square(ofOperator[j] - grand);
        ssInteraction += repeats * square(ofCell[i][j] - ofPart[i] - ofOperator[j] + grand);
      }
    }
    this.part = new Line(ssPart, parts - 1);
    this.operator = new Line(ssOperator, operators - 1);
    this.interaction = new Line(ssInteraction, (parts - 1) * (operators - 1));
    this.repeat = new Line(ssRepeat, parts * operators * (repeats - 1));
    this.pooled = interaction.pValueAgainst(repeat) > level;
    this.error = pooled ? interaction.plus(repeat) : interaction;
  }

  private static double square(double value) {
    return value * value;
  }

  /**
   * The analysis that pools the interaction where its probability value exceeds a stated level.
   *
   * @param readings two parts, operators and repeats or more, as many in each combination
   */
  public static GaugeStudy poolingAbove(Collection<Reading> readings, double level) {
    Checks.fraction(level, "level");
    Set<String> parts = new LinkedHashSet<>();
    Set<String> operators = new LinkedHashSet<>();
    Map<List<String>, List<Double>> groups = new LinkedHashMap<>();
    for (Reading reading : readings) {
      parts.add(reading.part());
      operators.add(reading.operator());
      groups
          .computeIfAbsent(List.of(reading.part(), reading.operator()), key -> new ArrayList<>())
          .add(reading.value());
    }
    Checks.atLeast(parts.size(), 2, "number of parts");
    Checks.atLeast(operators.size(), 2, "number of operators");
    int repeats = groups.values().iterator().next().size();
    Checks.atLeast(repeats, 2, "number of repeats");
    double[][][] cells = new double[parts.size()][operators.size()][];
    int i = 0;
    for (String part : parts) {
      int j = 0;
      for (String operator : operators) {
        List<Double> cell = groups.getOrDefault(List.of(part, operator), List.of());
        if (cell.size() != repeats) {
          throw new IllegalArgumentException(
              "readings must be balanced: part %s by operator %s has %d readings, not %d"
                  .formatted(part, operator, cell.size(), repeats));
        }
        cells[i][j++] = cell.stream().mapToDouble(v -> v).toArray();
      }
      i++;
    }
    return new GaugeStudy(cells, level);
  }

  /** The line of the repeats, before any pooling. */
  public Line repeat() {
    return repeat;
  }

  /** The component of repeats: readings of one part by one operator. */
  public Component repeatability() {
    return new Component(pooled ? error.meanSquare() : repeat.meanSquare());
  }

  /** The component of operators. */
  public Component operatorComponent() {
    return new Component((operator.meanSquare() - error.meanSquare()) / (parts * repeats));
  }

  /** The component of the interaction; empty where it was pooled. */
  public Optional<Component> interactionComponent() {
    return pooled
        ? Optional.empty()
        : Optional.of(new Component((interaction.meanSquare() - repeat.meanSquare()) / repeats));
  }

  /** The component of parts. */
  public Component partComponent() {
    return new Component((part.meanSquare() - error.meanSquare()) / (operators * repeats));
  }

  /** Standard deviation of measuring: repeats, operators and interaction together. */
  public double measuringSd() {
    return Math.sqrt(
        repeatability().variance()
            + operatorComponent().variance()
            + interactionComponent().map(Component::variance).orElse(0.0));
  }

  /** Standard deviation over parts and measuring. */
  public double totalSd() {
    return Math.hypot(measuringSd(), partComponent().sd());
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
   * The confidence interval of the standard deviation of measuring: {@link ModifiedLargeSample}
   * over the mean squares, measuring variance = MSO/(p r) + a MSI + b MSE. With two or three
   * operators it is wide, and it should be.
   */
  public Interval measuringInterval(double confidence) {
    double oneSided = (1 + Checks.fraction(confidence, "confidence")) / 2;
    double ofOperator = 1.0 / (parts * repeats);
    double ofInteraction = pooled ? 1 - ofOperator : 1.0 / repeats - ofOperator;
    List<Line> lines = pooled ? List.of(operator, error) : List.of(operator, interaction, repeat);
    double[] coefficient = {ofOperator, ofInteraction, 1 - 1.0 / repeats};
    double estimate = 0;
    double up = 0;
    double down = 0;
    for (int i = 0; i < lines.size(); i++) {
      double share = coefficient[i] * lines.get(i).meanSquare();
      int df = lines.get(i).degreesOfFreedom();
      estimate += share;
      up += square(share * ModifiedLargeSample.above(df, oneSided));
      down += square(share * ModifiedLargeSample.below(df, oneSided));
    }
    return new Interval(
        Math.sqrt(Math.max(0, estimate - Math.sqrt(down))),
        Math.sqrt(estimate + Math.sqrt(up)),
        confidence);
  }
}
