package lotproof.statistics.components;

import lotproof.statistics.Checks;

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
