package lotproof.demo;

import java.util.EnumMap;
import java.util.Map;
import lotproof.plan.Draws;

/**
 * All cells, or all boards, that a maker could ever produce: each trait with its spread. Traits are
 * independent of one another.
 *
 * @param <T> the traits, {@link CellTrait} or {@link BoardTrait}
 */
@SuppressWarnings("EnumOrdinal") // arrays by ordinal: units are drawn by the million
public final class Population<T extends Enum<T>> {
  private final T[] traits;
  private final NormalSpread[] spreads;

  /**
   * @param type the enum of traits
   * @param spreads one spread for each trait, none left out
   */
  public Population(Class<T> type, Map<T, NormalSpread> spreads) {
    this.traits = type.getEnumConstants();
    this.spreads = new NormalSpread[traits.length];
    for (T trait : traits) {
      NormalSpread spread = spreads.get(trait);
      if (spread == null) {
        throw new IllegalArgumentException("no spread given for " + trait);
      }
      this.spreads[trait.ordinal()] = spread;
    }
  }

  /** The spread of one trait. */
  public NormalSpread spread(T trait) {
    return spreads[trait.ordinal()];
  }

  /** All spreads in the order of the traits. */
  public Map<T, NormalSpread> spreads() {
    Map<T, NormalSpread> byTrait = new EnumMap<>(traits[0].getDeclaringClass());
    for (T trait : traits) {
      byTrait.put(trait, spread(trait));
    }
    return byTrait;
  }

  /** The traits of a unit that is exactly average. */
  public Traits<T> average() {
    double[] values = new double[spreads.length];
    for (int i = 0; i < values.length; i++) {
      values[i] = spreads[i].mean();
    }
    return new Traits<>(values);
  }

  /** The means of a new lot. */
  public Traits<T> drawLot(Draws draws) {
    double[] values = new double[spreads.length];
    for (int i = 0; i < values.length; i++) {
      values[i] = spreads[i].mean() + spreads[i].lotSd() * draws.gaussian();
    }
    return new Traits<>(values);
  }

  /** A new unit of a lot. */
  public Traits<T> drawUnit(Traits<T> lot, Draws draws) {
    double[] values = new double[spreads.length];
    for (T trait : traits) {
      values[trait.ordinal()] = lot.get(trait) + spread(trait).unitSd() * draws.gaussian();
    }
    return new Traits<>(values);
  }
}
