package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.statistics.Checks;
import org.jspecify.annotations.Nullable;

/**
 * Values with the levels they belong to. The residual is implicit and is called {@code residual}.
 *
 * <p>Factors stand coarsest first, such as lots before units before pairs. A factor whose levels
 * lie within those of another counts as finer than it wherever it stands.
 */
public final class Observations {
  private final double[] values;
  private final List<RandomFactor> factors;
  private final List<FixedColumn> fixedColumns;

  /** Observations with the same structure, which is worked out once. */
  private final @Nullable Observations like;

  private @Nullable CellMeans cells;

  /**
   * Observations with known influences.
   *
   * @param values one finite value for each observation, in any unit
   * @param factors random factors, each with one level for each observation; names differ
   * @param fixedColumns known influences beside the mean, mostly none
   */
  public Observations(double[] values, List<RandomFactor> factors, List<FixedColumn> fixedColumns) {
    this.values = Checks.sample(values, 0, "values");
    this.factors = List.copyOf(factors);
    this.fixedColumns = List.copyOf(fixedColumns);
    this.like = null;
    Set<Component> components = new HashSet<>();
    for (RandomFactor factor : factors) {
      checkSize(factor.component().name(), factor.size());
      if (!components.add(factor.component())) {
        throw new IllegalArgumentException("two factors are called " + factor.component());
      }
    }
    for (FixedColumn column : fixedColumns) {
      checkSize(column.name(), column.size());
    }
  }

  /** Observations without fixed columns. */
  public Observations(double[] values, List<RandomFactor> factors) {
    this(values, factors, List.of());
  }

  private Observations(Observations like, double[] values) {
    this.values = Checks.sample(values, 0, "values");
    this.factors = like.factors;
    this.fixedColumns = like.fixedColumns;
    this.like = like;
    if (values.length != like.size()) {
      throw new IllegalArgumentException(
          "values must be " + like.size() + ", one for each observation, were " + values.length);
    }
  }

  private void checkSize(String name, int size) {
    if (size != values.length) {
      throw new IllegalArgumentException(
          name + " must have one entry for each of " + values.length + " values, had " + size);
    }
  }

  /** A copy of the values. */
  public double[] values() {
    return values.clone();
  }

  public List<RandomFactor> factors() {
    return factors;
  }

  public List<FixedColumn> fixedColumns() {
    return fixedColumns;
  }

  /** Components of the factors in their order, then the residual. */
  public List<Component> components() {
    List<Component> components = new ArrayList<>();
    factors.forEach(factor -> components.add(factor.component()));
    components.add(Component.RESIDUAL);
    return List.copyOf(components);
  }

  double value(int observation) {
    return values[observation];
  }

  int size() {
    return values.length;
  }

  /** Other values with the same structure, which is not prepared again. */
  public Observations withValues(double[] otherValues) {
    return new Observations(like == null ? this : like, otherValues);
  }

  /** The form in which a likelihood needs them. */
  CellMeans cells() {
    CellMeans known = cells;
    if (known == null) {
      known = like == null ? new CellMeans(this) : new CellMeans(like.cells(), this);
      cells = known;
    }
    return known;
  }

  /**
   * A known influence that is not random: a covariate, or a 0/1 column that marks a block. The fit
   * centres it, so that the fitted mean belongs to the average of the column.
   *
   * @param name name of the column
   * @param values one finite value for each observation
   */
  @SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
  public record FixedColumn(String name, double[] values) {
    public FixedColumn {
      if (name.isBlank()) {
        throw new IllegalArgumentException("name of a fixed column must not be blank");
      }
      values = Checks.sample(values, 0, "fixed column " + name);
    }

    @Override
    public double[] values() {
      return values.clone();
    }

    double value(int observation) {
      return values[observation];
    }

    int size() {
      return values.length;
    }
  }
}
