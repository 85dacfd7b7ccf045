package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.MassLimits;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.MassClass;
import lotproof.study.Study;

/**
 * What is added to a bound because nothing averages it out, in the claim's form and at the worst
 * load of the study (docs/method.md, "Masses").
 *
 * @param benchGrams limit of error of the bench's masses at the largest load
 * @param buyerGrams limit of error that the buyer's calibration masses cause at the worst load; 0
 *     without calibration
 * @param betweenGrams for loads between the tested ones; absent where nothing is known of them
 * @param temperatureGrams for the temperature correction; 0 without one
 * @param referenceGrams for the reference pair's own error; 0 where kits were measured
 * @param driftGrams for what a drift of the bench may hide of how lots differ; 0 where lots can be
 *     told from time
 * @param changeKelvin change of temperature between calibration and use that the correction was
 *     judged on; absent where there is none
 * @param sides for effects that side tests measured
 */
public record GuardBands(
    double benchGrams,
    double buyerGrams,
    OptionalDouble betweenGrams,
    double temperatureGrams,
    double referenceGrams,
    double driftGrams,
    OptionalDouble changeKelvin,
    List<SideAllowance> sides) {
  public GuardBands {
    sides = List.copyOf(sides);
  }

  /** Empty when OIML R 111 has no limit for one of the masses in its class. */
  public static Optional<GuardBands> of(
      Study study,
      CalibrationLevel level,
      List<ErrorCurve> curves,
      Optional<TemperatureEffect.Estimated> correction) {
    return of(study, level, BetweenLoads.grams(curves, study.claim().form()), correction);
  }

  /** What the masses alone add, as far as it is known before the first reading. */
  public static Optional<GuardBands> ofMasses(Study study, CalibrationLevel level) {
    return of(study, level, OptionalDouble.empty(), Optional.empty());
  }

  private static Optional<GuardBands> of(
      Study study,
      CalibrationLevel level,
      OptionalDouble between,
      Optional<TemperatureEffect.Estimated> correction) {
    ClaimForm form = study.claim().form();
    double bench = 0;
    double buyer = 0;
    double temperature = 0;
    for (double load : study.design().loadsKilograms()) {
      OptionalDouble limit = MassLimits.grams(load, study.conditions().benchMassClass());
      OptionalDouble calibration = buyerGrams(level, load);
      if (limit.isEmpty() || calibration.isEmpty()) {
        return Optional.empty();
      }
      double weight = form.weight(load);
      bench = Math.max(bench, limit.getAsDouble() / weight);
      buyer = Math.max(buyer, calibration.getAsDouble() / weight);
      double guard = correction.map(effect -> effect.guardGrams(load)).orElse(0.0);
      temperature = Math.max(temperature, guard / weight);
    }
    return Optional.of(
        new GuardBands(
            bench,
            buyer,
            between,
            temperature,
            0,
            0,
            correction.map(effect -> effect.changeKelvin()).orElse(OptionalDouble.empty()),
            List.of()));
  }

  double totalGrams() {
    return benchGrams
        + buyerGrams
        + betweenGrams.orElse(0)
        + temperatureGrams
        + referenceGrams
        + driftGrams
        + sides.stream().mapToDouble(SideAllowance::grams).sum();
  }

  GuardBands withSides(List<SideAllowance> allowances) {
    return new GuardBands(
        benchGrams,
        buyerGrams,
        betweenGrams,
        temperatureGrams,
        referenceGrams,
        driftGrams,
        changeKelvin,
        allowances);
  }

  GuardBands withReference(double grams) {
    return new GuardBands(
        benchGrams,
        buyerGrams,
        betweenGrams,
        temperatureGrams,
        grams,
        driftGrams,
        changeKelvin,
        sides);
  }

  GuardBands withDrift(double grams) {
    return new GuardBands(
        benchGrams,
        buyerGrams,
        betweenGrams,
        temperatureGrams,
        referenceGrams,
        grams,
        changeKelvin,
        sides);
  }

  private static OptionalDouble buyerGrams(CalibrationLevel level, double load) {
    return level instanceof CalibrationLevel.Calibrated calibrated
        ? buyerGrams(calibrated.pointsKilograms(), calibrated.massClass(), load)
        : OptionalDouble.of(0);
  }

  /**
   * Sum over the masses of |weight of the mass in the indication at this load| times its limit of
   * error.
   */
  private static OptionalDouble buyerGrams(List<Double> masses, MassClass massClass, double load) {
    int piece = 0;
    while (piece < masses.size() - 1 && load > masses.get(piece)) {
      piece++;
    }
    double from = piece == 0 ? 0 : masses.get(piece - 1);
    double share = (load - from) / (masses.get(piece) - from);
    OptionalDouble upper = MassLimits.grams(masses.get(piece), massClass);
    OptionalDouble lower = MassLimits.grams(from, massClass);
    return upper.isEmpty() || lower.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            Math.abs(share) * upper.getAsDouble() + Math.abs(1 - share) * lower.getAsDouble());
  }
}
