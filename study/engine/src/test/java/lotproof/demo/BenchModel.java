package lotproof.demo;

import java.util.Map;

/**
 * The bench and what is common to all kits on it.
 *
 * @param capacityKilograms rated capacity of the cells, above 0
 * @param nominalMillivoltPerVolt nominal output at capacity, above 0
 * @param countsPerMillivoltPerVolt nominal scale of the converter, above 0
 * @param fullScaleMillivoltPerVolt input at which the converter ends, above 0
 * @param samplesPerReading samples behind one reading, at least 2
 * @param secondsPerStep time from one reading to the next, above 0
 * @param creepSeconds time constant of creep, above 0
 * @param pairingLogGainSd spread of what a cell and a board do to each other's gain (leads, input
 *     resistance), once per pair
 * @param mountingLogGainSd spread of gain from one mounting of the same pair to the next, once per
 *     run
 * @param mountingZeroSdMillivoltPerVolt spread of zero from one mounting to the next, once per run
 * @param placementSdGrams spread from where the masses stand, at capacity and in proportion below,
 *     once per step
 * @param massErrorsGrams true minus nominal mass by load in kg; loads not named are taken as true
 */
public record BenchModel(
    double capacityKilograms,
    double nominalMillivoltPerVolt,
    double countsPerMillivoltPerVolt,
    double fullScaleMillivoltPerVolt,
    int samplesPerReading,
    double secondsPerStep,
    double creepSeconds,
    double pairingLogGainSd,
    double mountingLogGainSd,
    double mountingZeroSdMillivoltPerVolt,
    double placementSdGrams,
    Map<Double, Double> massErrorsGrams) {
  public BenchModel {
    positive(capacityKilograms, "capacity (kg)");
    positive(nominalMillivoltPerVolt, "nominal output (mV/V)");
    positive(countsPerMillivoltPerVolt, "converter scale (counts per mV/V)");
    positive(fullScaleMillivoltPerVolt, "full scale (mV/V)");
    if (samplesPerReading < 2) {
      throw new IllegalArgumentException(
          "samples per reading must be at least 2, was " + samplesPerReading);
    }
    positive(secondsPerStep, "time per step (s)");
    positive(creepSeconds, "creep time (s)");
    notNegative(pairingLogGainSd, "pairing sd");
    notNegative(mountingLogGainSd, "mounting sd");
    notNegative(mountingZeroSdMillivoltPerVolt, "mounting zero sd (mV/V)");
    notNegative(placementSdGrams, "placement sd (g)");
    massErrorsGrams = Map.copyOf(massErrorsGrams);
  }

  /** The same bench with perfect masses. */
  public BenchModel withPerfectMasses() {
    return new BenchModel(
        capacityKilograms,
        nominalMillivoltPerVolt,
        countsPerMillivoltPerVolt,
        fullScaleMillivoltPerVolt,
        samplesPerReading,
        secondsPerStep,
        creepSeconds,
        pairingLogGainSd,
        mountingLogGainSd,
        mountingZeroSdMillivoltPerVolt,
        placementSdGrams,
        Map.of());
  }

  /** Counts per kilogram of a kit that is nominal in every respect. */
  public double nominalCountsPerKilogram() {
    return nominalMillivoltPerVolt * countsPerMillivoltPerVolt / capacityKilograms;
  }

  private static void positive(double value, String name) {
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(name + " must be above 0 and finite, was " + value);
    }
  }

  private static void notNegative(double value, String name) {
    if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(name + " must be 0 or above and finite, was " + value);
    }
  }
}
