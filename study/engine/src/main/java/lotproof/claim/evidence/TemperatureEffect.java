package lotproof.claim.evidence;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFit.FixedEffect;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.Observations.FixedColumn;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * The mean temperature coefficient of sensitivity of all kits, as the record shows it.
 *
 * <p>Sensitivity is fitted with the temperature of the run as a known influence beside the random
 * factors (REML); coefficient = change per kelvin over the mean. Its uncertainty is common to all
 * kits, so it enters the claim as a guard band and never as a variance: at load x the band is x
 * (|k| times the thermometer's limit of error + z u(k) times the reach). Without calibration the
 * reach is the largest distance of a run from the reference temperature. With one it is the largest
 * change of temperature between calibration and use, and the thermometer can be wrong at both, so
 * that twice its limit of error counts.
 *
 * @param perKelvin relative change of the indication for each kelvin
 * @param referenceCelsius temperature at which the correction is zero
 * @param reachKelvin how far from where it is exact the correction is used
 * @param sensorErrorKelvin how wrong the thermometer can be over that
 * @param changeKelvin the change of temperature between calibration and use that every run behind
 *     the figure went through; absent without a calibration
 */
public record TemperatureEffect(
    double perKelvin,
    double standardErrorPerKelvin,
    double referenceCelsius,
    double reachKelvin,
    double sensorErrorKelvin,
    double confidence,
    OptionalDouble changeKelvin) {
  /** Less variation than this tells next to nothing of a coefficient. */
  public static final double SMALLEST_RANGE_KELVIN = 2;

  /** Guard band at a load. */
  double guardGrams(double loadKilograms) {
    double z = DistributionQuantiles.normal((1 + confidence) / 2);
    return 1000
        * loadKilograms
        * (Math.abs(perKelvin) * sensorErrorKelvin + z * standardErrorPerKelvin * reachKelvin);
  }

  /** The same for a calibration at one temperature and use at another. */
  TemperatureEffect afterChange(double smallestKelvin, double largestKelvin) {
    return new TemperatureEffect(
        perKelvin,
        standardErrorPerKelvin,
        referenceCelsius,
        largestKelvin,
        2 * sensorErrorKelvin,
        confidence,
        OptionalDouble.of(smallestKelvin));
  }

  /**
   * Estimates the coefficient; empty where the runs cannot tell temperature from the units.
   *
   * @param runs runs that show their sensitivity
   */
  static Optional<TemperatureEffect> of(
      Study study,
      List<ReducedRun> runs,
      double[] celsius,
      ClaimRequest.TemperatureCorrection correction) {
    MeasuredValues values = new StudySpread(study).values(Characteristic.SENSITIVITY, runs);
    Observations observations =
        new Observations(
            values.array(),
            FactorPlan.of(values).factors(values),
            List.of(new FixedColumn("temperature", celsius)));
    if (!(ComponentsFitter.fit(observations, FitOptions.REML) instanceof ComponentsFit fit)) {
      return Optional.empty();
    }
    FixedEffect slope = fit.fixedEffects().get(0);
    double reference = Math.rint(10 * Arrays.stream(celsius).average().orElseThrow()) / 10;
    return Optional.of(
        new TemperatureEffect(
            slope.estimate() / fit.mean(),
            slope.standardError() / fit.mean(),
            reference,
            Arrays.stream(celsius).map(t -> Math.abs(t - reference)).max().orElseThrow(),
            correction.sensorErrorCelsius(),
            study.claim().confidence(),
            OptionalDouble.empty()));
  }

  /** Mean recorded temperature of a run, of the cell where it was taken and else of the board. */
  static OptionalDouble celsius(LoadRun run) {
    OptionalDouble cell = mean(run, beside -> beside.cellTemperatureCelsius());
    return cell.isPresent() ? cell : mean(run, beside -> beside.boardTemperatureCelsius());
  }

  private static OptionalDouble mean(
      LoadRun run, Function<Reading.Beside, OptionalDouble> temperature) {
    return run.readings().stream()
        .flatMapToDouble(r -> temperature.apply(r.beside()).stream())
        .average();
  }
}
