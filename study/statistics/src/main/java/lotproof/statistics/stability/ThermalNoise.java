package lotproof.statistics.stability;

import lotproof.statistics.Checks;

/**
 * The thermal noise of a resistance (Johnson and Nyquist): the floor that no amplifier gets under.
 *
 * <p>Density = sqrt(4 k T R) in volts per root hertz, k = 1.380649e-23 J/K exactly (SI 2019). For a
 * balanced bridge R is the resistance of one arm.
 */
public final class ThermalNoise {
  private static final double BOLTZMANN = 1.380649e-23;

  private ThermalNoise() {}

  /** Volts per root hertz. */
  public static double densityVoltsPerRootHertz(double ohms, double kelvin) {
    return Math.sqrt(
        4 * BOLTZMANN * Checks.positive(kelvin, "kelvin") * Checks.positive(ohms, "ohms"));
  }

  /** Root mean square volts in a noise bandwidth. */
  public static double rmsVolts(double ohms, double kelvin, double bandwidthHertz) {
    return densityVoltsPerRootHertz(ohms, kelvin)
        * Math.sqrt(Checks.positive(bandwidthHertz, "bandwidthHertz"));
  }
}
