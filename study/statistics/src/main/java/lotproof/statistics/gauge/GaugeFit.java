package lotproof.statistics.gauge;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import lotproof.statistics.Checks;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.Criterion;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.NotEstimable;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.ProfileIntervals;
import lotproof.statistics.components.RandomFactor;

/**
 * A crossed gauge study by restricted likelihood: the model of {@link GaugeStudy}, for readings
 * that need not be balanced.
 *
 * <p>Reading = mean + part + operator + part by operator + repeat, all random and normal. The
 * interaction is in the model where a part was read more than once by an operator and some operator
 * shares a part with another; without repeats it cannot be told from them and is part of repeat.
 * Components cannot be negative here: one whose likelihood falls from zero is zero, and its
 * variance goes to the others, as pooling does. In balanced studies whose mean squares give no
 * negative component both analyses agree.
 *
 * <p>Intervals of components are profile-likelihood intervals in the widened form of {@link
 * ProfileIntervals#adjusted}.
 *
 * <p>Sources: as {@link GaugeStudy} and {@link ComponentsFitter}.
 */
public final class GaugeFit implements GaugeOutcome {
  private static final String PART = "part";
  private static final String OPERATOR = "operator";
  private static final String INTERACTION = "part by operator";

  private final ComponentsFit fit;

  private GaugeFit(ComponentsFit fit) {
    this.fit = fit;
  }

  /** Fits two parts or more, each read by operators of whom there are two or more. */
  public static GaugeOutcome of(Collection<GaugeReading> readings) {
    List<String> parts = new ArrayList<>();
    List<String> operators = new ArrayList<>();
    List<String> cells = new ArrayList<>();
    Map<List<String>, String> cellNames = new LinkedHashMap<>();
    double[] values = new double[readings.size()];
    for (GaugeReading reading : readings) {
      values[parts.size()] = reading.value();
      parts.add(reading.part());
      operators.add(reading.operator());
      List<String> cell = List.of(reading.part(), reading.operator());
      cells.add(cellNames.computeIfAbsent(cell, key -> "cell " + cellNames.size()));
    }
    Set<String> differentParts = new TreeSet<>(parts);
    Set<String> differentOperators = new TreeSet<>(operators);
    Checks.atLeast(differentParts.size(), 2, "number of parts");
    Checks.atLeast(differentOperators.size(), 2, "number of operators");
    List<RandomFactor> factors = new ArrayList<>();
    factors.add(RandomFactor.of(PART, parts));
    factors.add(RandomFactor.of(OPERATOR, operators));
    boolean repeated = cellNames.size() < values.length;
    boolean crossed = cellNames.size() > Math.max(differentParts.size(), differentOperators.size());
    if (repeated && crossed) {
      factors.add(RandomFactor.of(INTERACTION, cells));
    }
    FitOutcome outcome = ComponentsFitter.fit(new Observations(values, factors), Criterion.REML);
    if (outcome instanceof NotEstimable not) {
      return new GaugeNotEstimable(not.reason());
    }
    return new GaugeFit((ComponentsFit) outcome);
  }

  /** The fit itself. */
  public ComponentsFit fit() {
    return fit;
  }

  /** Whether the interaction is a component of its own. */
  public boolean hasInteraction() {
    return fit.componentNames().contains(INTERACTION);
  }

  public double repeatabilityVariance() {
    return fit.variance(RandomFactor.RESIDUAL);
  }

  public double operatorVariance() {
    return fit.variance(OPERATOR);
  }

  /** 0 where the interaction is no component of its own. */
  public double interactionVariance() {
    return hasInteraction() ? fit.variance(INTERACTION) : 0;
  }

  public double partVariance() {
    return fit.variance(PART);
  }

  /** Standard deviation of measuring: repeats, operators and interaction together. */
  public double measuringSd() {
    return Math.sqrt(repeatabilityVariance() + operatorVariance() + interactionVariance());
  }

  /** Standard deviation over parts and measuring. */
  public double totalSd() {
    return Math.hypot(measuringSd(), Math.sqrt(partVariance()));
  }

  /** Measuring as a share of the total, by standard deviations. */
  public double measuringShare() {
    return measuringSd() / totalSd();
  }

  /** Measuring against a tolerance: 6 standard deviations over its width. */
  public double toleranceShare(double toleranceWidth) {
    return 6 * measuringSd() / Checks.positive(toleranceWidth, "toleranceWidth");
  }

  /** As {@link GaugeStudy#distinctCategories()}. */
  public double distinctCategories() {
    return GaugeStudy.CATEGORY_FACTOR * Math.sqrt(partVariance()) / measuringSd();
  }

  /** Intervals of the standard deviations, by component name, in the order of the fit. */
  public Map<String, Interval> intervals(double confidence) {
    List<Interval> intervals = ProfileIntervals.adjusted(fit, confidence);
    Map<String, Interval> result = new LinkedHashMap<>();
    for (int k = 0; k < intervals.size(); k++) {
      result.put(fit.componentNames().get(k), intervals.get(k));
    }
    return result;
  }
}
