package lotproof.reduce;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
 * extended beyond the largest mass. The error is the indication minus the applied load, in grams.
 *
 * <p>The calibration uses the same run as the test. An error that all loads have in common (the
 * bench masses being wrong by one factor) cancels, so the buyer's own mass error has to be added to
 * the claim; see lotproof.claim.
 */
public final class ErrorOfReading {
  private static final double GRAMS_PER_KILOGRAM = 1000;

  private final Kit kit;

  public ErrorOfReading(Kit kit) {
    this.kit = kit;
  }

  /**
   * The curve of one run; empty when the run has no rising reading at one of the calibration
   * masses.
   */
  public Optional<ErrorCurve> curve(ReducedRun reduced, CalibrationLevel level) {
    LoadRun run = reduced.run();
    double zero = run.readings().get(0).outputCounts();
    List<Double> masses = level.pointsKilograms();
    double[] outputs = new double[masses.size()];
    double previous = 0;
    for (int k = 0; k < outputs.length; k++) {
      OptionalDouble output = LoadRunReduction.risingOutput(run, masses.get(k));
      if (output.isEmpty() || !(output.getAsDouble() - zero > previous)) {
        return Optional.empty();
      }
      outputs[k] = output.getAsDouble() - zero;
      previous = outputs[k];
    }
    List<ErrorCurve.Point> points = new ArrayList<>();
    for (int i = 0; i < run.readings().size(); i++) {
      Reading reading = run.readings().get(i);
      double net = reading.outputCounts() - zero;
      double indicated =
          outputs.length == 0
              ? net / kit.defaultFactorCountsPerKilogram()
              : interpolated(net, outputs, masses);
      double error = GRAMS_PER_KILOGRAM * (indicated - reading.loadKilograms());
      points.add(new ErrorCurve.Point(reading.loadKilograms(), run.direction(i), error));
    }
    return Optional.of(new ErrorCurve(run.name(), run.cell(), run.board(), points));
  }

  private static double interpolated(double net, double[] outputs, List<Double> masses) {
    int piece = 0;
    while (piece < outputs.length - 1 && net > outputs[piece]) {
      piece++;
    }
    double fromOutput = piece == 0 ? 0 : outputs[piece - 1];
    double fromMass = piece == 0 ? 0 : masses.get(piece - 1);
    double perCount = (masses.get(piece) - fromMass) / (outputs[piece] - fromOutput);
    return fromMass + (net - fromOutput) * perCount;
  }
}
