package lotproof.reduce;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Which planned load a mass on the bench stands for. A mass stands for a planned load when it
 * differs from it by no more than the larger of the limit of error of the study's mass class (OIML
 * R 111-1) and 0.1 % of the load. The 0.1 % is common practice, no source: the true value of any
 * usual weight lies closer, and so does a load that was converted from another unit and rounded,
 * while no other planned load does. No load stands for no load only.
 */
public final class PlannedLoads {
  /** Share of the load by which a mass may differ from it. */
  public static final double SHARE = 0.001;

  private static final double GRAMS_PER_KILOGRAM = 1000;

  private PlannedLoads() {}

  /** How far a mass that stands for a planned load may lie from it, in kilograms. */
  public static double toleranceKilograms(double plannedKilograms, MassClass massClass) {
    OptionalDouble limitGrams = MassLimits.grams(plannedKilograms, massClass);
    return Math.max(SHARE * plannedKilograms, limitGrams.orElse(0) / GRAMS_PER_KILOGRAM);
  }

  /**
   * The planned load that a reading was taken at: that of its step, or the nearest other one of its
   * run; empty when none is near enough.
   */
  public static OptionalDouble of(Reading reading, Study study) {
    double mass = reading.loadKilograms();
    List<Double> planned = study.design().loadsOf(reading.run());
    MassClass massClass = study.conditions().benchMassClass();
    int step = reading.step() - 1;
    if (step < planned.size() && isNear(mass, planned.get(step), massClass)) {
      return OptionalDouble.of(planned.get(step));
    }
    return planned.stream()
        .filter(load -> isNear(mass, load, massClass))
        .mapToDouble(load -> load)
        .reduce((a, b) -> Math.abs(a - mass) <= Math.abs(b - mass) ? a : b);
  }

  private static boolean isNear(double mass, double planned, MassClass massClass) {
    return mass == planned || Math.abs(mass - planned) <= toleranceKilograms(planned, massClass);
  }
}
