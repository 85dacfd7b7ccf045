package lotproof.demo;

import java.util.Arrays;

/**
 * The true values of one unit, or the means of one lot.
 *
 * @param <T> the traits, {@link CellTrait} or {@link BoardTrait}
 */
@SuppressWarnings("EnumOrdinal") // arrays by ordinal: units are drawn by the million
public final class Traits<T extends Enum<T>> {
  private final double[] values;

  Traits(double[] values) {
    this.values = values;
  }

  /** The value of one trait. */
  public double get(T trait) {
    return values[trait.ordinal()];
  }

  /** These traits with one of them replaced. */
  public Traits<T> with(T trait, double value) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException(trait + " must be a finite number, was " + value);
    }
    double[] changed = values.clone();
    changed[trait.ordinal()] = value;
    return new Traits<>(changed);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Traits<?> traits && Arrays.equals(values, traits.values);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(values);
  }

  @Override
  public String toString() {
    return Arrays.toString(values);
  }
}
