package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.study.CalibrationLevel;
import lotproof.study.MassClass;
import lotproof.study.Study;

/**
 * What mass errors can add to an error of reading, at the worst load of the study. Both are added
 * to the bound: they are common to all readings, so they neither average out nor show in residuals
 * (docs/method.md, "Masses").
 *
 * @param benchGrams limit of error of the bench's masses at the largest load
 * @param buyerGrams limit of error that the buyer's calibration masses cause at the worst load; 0
 *     without calibration
 */
record GuardBands(double benchGrams, double buyerGrams) {

  /** Empty when OIML R 111 has no limit for one of the masses in its class. */
  static Optional<GuardBands> of(Study study, CalibrationLevel level) {
    List<Double> loads = study.design().loadsKilograms();
    double bench = 0;
    double buyer = 0;
    for (double load : loads) {
      OptionalDouble limit = MassLimits.grams(load, study.conditions().benchMassClass());
      OptionalDouble calibration = buyerGrams(level, load);
      if (limit.isEmpty() || calibration.isEmpty()) {
        return Optional.empty();
      }
      bench = Math.max(bench, limit.getAsDouble());
      buyer = Math.max(buyer, calibration.getAsDouble());
    }
    return Optional.of(new GuardBands(bench, buyer));
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
