package lotproof.statistics.components;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.statistics.Checks;

/**
 * Values with the levels they belong to. The residual is implicit and is called {@code residual}.
 *
 * @param values one finite value for each observation, in any unit
 * @param factors random factors, each with one level for each observation; names differ
 * @param fixedColumns known influences beside the mean, mostly none
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
public record Observations(
    double[] values, List<RandomFactor> factors, List<FixedColumn> fixedColumns) {
  public Observations {
    values = Checks.sample(values, 0, "values");
    factors = List.copyOf(factors);
    fixedColumns = List.copyOf(fixedColumns);
    Set<String> names = new HashSet<>();
    for (RandomFactor factor : factors) {
      checkSize(factor.name(), factor.size(), values.length);
      if (!names.add(factor.name())) {
        throw new IllegalArgumentException("factor name is used twice: " + factor.name());
      }
    }
    for (FixedColumn column : fixedColumns) {
      checkSize(column.name(), column.size(), values.length);
    }
  }

  /** Observations without fixed columns. */
  public Observations(double[] values, List<RandomFactor> factors) {
    this(values, factors, List.of());
  }

  private static void checkSize(String name, int size, int expected) {
    if (size != expected) {
      throw new IllegalArgumentException(
          name + " must have one entry for each of " + expected + " values, had " + size);
    }
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

  /** The same structure with other values, for a refit. */
  public Observations withValues(double[] otherValues) {
    return new Observations(otherValues, factors, fixedColumns);
  }
}
