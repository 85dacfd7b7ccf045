package lotproof.reduce;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.study.CalibrationLevel;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * The error of reading that a buyer would see after each kind of calibration, from the run that was
 * recorded.
 *
 * <p>With u_j the output, u_0 the tared zero and v_j = u_j - u_0: at level none the indication is
 * v_j / (default factor); after a calibration with masses m_1 &lt; m_2 &lt; ... it is the piecewise
 * straight line through (0, 0) and the rising readings (v(m_k), m_k), of which the last piece is
 * extended beyond the largest mass. The error is the indication minus the mass that lay on the
 * cell, in grams. A mass m_k is looked for among the planned loads of the run, and enters as the
 * mass that lay on the cell there.
 *
 * <p>The calibration uses the same run as the test, unless another run is named. An error that all
 * loads have in common (the bench masses being wrong by one factor) cancels, so the buyer's own
 * mass error has to be added to the claim; see lotproof.claim.
 */
public final class ErrorOfReading {
  private static final double GRAMS_PER_KILOGRAM = 1000;

  private final Kit kit;
  private final double perKelvin;
  private final double referenceCelsius;

  public ErrorOfReading(Kit kit) {
    this(kit, 0, 0);
  }

  /**
   * Errors with a temperature correction: each tared output is divided by 1 + coefficient *
   * (temperature of the reading - reference), the temperature being that of the cell or, where it
   * was not taken, of the board.
   *
   * @param perKelvin mean coefficient of all kits, relative change for each kelvin
   * @param referenceCelsius temperature at which the correction is zero
   */
  public ErrorOfReading(Kit kit, double perKelvin, double referenceCelsius) {
    this.kit = kit;
    this.perKelvin = perKelvin;
    this.referenceCelsius = referenceCelsius;
  }

  /**
   * The curve of one run; empty when the run has no rising reading at one of the calibration
   * masses, or a reading without temperature where a correction needs it.
   */
  public Optional<ErrorCurve> curve(ReducedRun reduced, CalibrationLevel level) {
    return curve(reduced.run(), reduced.run(), level);
  }

  /**
   * The curve of a run that is read with the calibration of another run of the same pair; empty as
   * above.
   *
   * @param run the run that is read, tared at its own zero
   * @param calibration the run whose rising readings are the calibration, tared at its own zero
   */
  public Optional<ErrorCurve> curve(LoadRun run, LoadRun calibration, CalibrationLevel level) {
    if (perKelvin != 0 && !(hasTemperatures(run) && hasTemperatures(calibration))) {
      return Optional.empty();
    }
    List<Double> loads = level.pointsKilograms();
    double[] outputs = new double[loads.size()];
    double[] masses = new double[loads.size()];
    double previous = 0;
    for (int k = 0; k < outputs.length; k++) {
      OptionalInt at = calibration.rising(loads.get(k));
      if (at.isEmpty() || !(net(calibration, at.getAsInt()) > previous)) {
        return Optional.empty();
      }
      outputs[k] = net(calibration, at.getAsInt());
      masses[k] = calibration.massKilograms(at.getAsInt());
      previous = outputs[k];
    }
    List<ErrorCurve.Point> points = new ArrayList<>();
    for (int i = 0; i < run.readings().size(); i++) {
      double net = net(run, i);
      double indicated =
          outputs.length == 0
              ? net / kit.defaultFactorCountsPerKilogram()
              : interpolated(net, outputs, masses);
      double error = GRAMS_PER_KILOGRAM * (indicated - run.massKilograms(i));
      points.add(new ErrorCurve.Point(run.loadsKilograms().get(i), run.direction(i), error));
    }
    return Optional.of(new ErrorCurve(run.name(), run.cell(), run.board(), points));
  }

  private static boolean hasTemperatures(LoadRun run) {
    return run.readings().stream().allMatch(reading -> celsius(reading).isPresent());
  }

  /** Tared output, corrected for temperature. */
  private double net(LoadRun run, int index) {
    Reading reading = run.readings().get(index);
    double net = reading.outputCounts() - run.readings().get(0).outputCounts();
    return perKelvin == 0
        ? net
        : net / (1 + perKelvin * (celsius(reading).orElseThrow() - referenceCelsius));
  }

  private static OptionalDouble celsius(Reading reading) {
    return reading.beside().cellTemperatureCelsius().isPresent()
        ? reading.beside().cellTemperatureCelsius()
        : reading.beside().boardTemperatureCelsius();
  }

  private static double interpolated(double net, double[] outputs, double[] masses) {
    int piece = 0;
    while (piece < outputs.length - 1 && net > outputs[piece]) {
      piece++;
    }
    double fromOutput = piece == 0 ? 0 : outputs[piece - 1];
    double fromMass = piece == 0 ? 0 : masses[piece - 1];
    double perCount = (masses[piece] - fromMass) / (outputs[piece] - fromOutput);
    return fromMass + (net - fromOutput) * perCount;
  }
}
