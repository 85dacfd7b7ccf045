package lotproof.study;

/**
 * The firmware corrects the indication for temperature with one mean coefficient for all kits,
 * estimated from the study.
 *
 * @param sensorErrorCelsius limit of error of the thermometer in the kit, 0 or above
 */
public record TemperatureCorrection(double sensorErrorCelsius) {
  public TemperatureCorrection {
    Require.notNegative(sensorErrorCelsius, "error of the thermometer (°C)");
  }
}
