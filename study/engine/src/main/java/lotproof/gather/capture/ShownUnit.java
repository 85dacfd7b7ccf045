package lotproof.gather.capture;

import java.util.Optional;
import lotproof.study.Kit;

/**
 * The unit that samples are shown in.
 *
 * @param symbol the unit
 * @param samplesPerUnit how many units of the samples make one; above 0
 */
public record ShownUnit(String symbol, double samplesPerUnit) {
  public ShownUnit {
    if (!(samplesPerUnit > 0 && Double.isFinite(samplesPerUnit))) {
      throw new IllegalArgumentException("counts per unit must be above 0, was " + samplesPerUnit);
    }
  }

  /** As the samples are. */
  public static ShownUnit asIs(String symbol) {
    return new ShownUnit(symbol, 1);
  }

  /** A unit that a kit's nominal factors reach; empty for any other. */
  public static Optional<ShownUnit> ofKit(Kit kit, String symbol) {
    return switch (symbol) {
      case "counts" -> Optional.of(asIs(symbol));
      case "kg" -> Optional.of(new ShownUnit(symbol, kit.defaultFactorCountsPerKilogram()));
      case "g" -> Optional.of(new ShownUnit(symbol, kit.defaultFactorCountsPerKilogram() / 1000));
      case "mV/V" -> Optional.of(new ShownUnit(symbol, kit.countsPerMillivoltPerVolt()));
      default -> Optional.empty();
    };
  }

  /** A value or a difference of samples in this unit. */
  public double of(double samples) {
    return samples / samplesPerUnit;
  }
}
