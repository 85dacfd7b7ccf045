package lotproof.statistics.stability;

import java.util.Optional;
import lotproof.statistics.Checks;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;

/**
 * A sine fitted to a converter's record by least squares.
 *
 * <p>Model: code(i) = C cos(w i) + S sin(w i) + offset, w = 2 pi cycles / n. With three parameters
 * the number of cycles is known; with four it is found too, by Gauss-Newton steps that add a column
 * for it. What is left over is noise and distortion: NAD = root of the mean squared residual,
 * divisor n.
 *
 * <p>Source: IEEE 1057 and IEEE 1241, sine-wave fits (from memory; checked against numpy lstsq).
 *
 * @param cycles number of cycles in the record
 * @param cosine C
 * @param sine S
 * @param offset in codes
 * @param noiseAndDistortion NAD in codes
 */
public record SineFit(
    double cycles, double cosine, double sine, double offset, double noiseAndDistortion) {
  private static final int MOST_STEPS = 50;

  /** The fit with a known number of cycles. */
  public static SineFit threeParameter(double[] codes, double cycles) {
    double[] y = Checks.sample(codes, 5, "codes");
    checkCycles(cycles, y.length);
    return fit(y, cycles);
  }

  /**
   * The fit that finds the number of cycles near a start.
   *
   * @param codes the record
   * @param startCycles within about half a cycle of the truth
   * @return empty when the search leaves the neighbourhood of its start
   */
  public static Optional<SineFit> fourParameter(double[] codes, double startCycles) {
    double[] y = Checks.sample(codes, 5, "codes");
    checkCycles(startCycles, y.length);
    double cycles = startCycles;
    for (int i = 0; i < MOST_STEPS; i++) {
      SineFit now = fit(y, cycles);
      double step = cycleStep(y, now);
      cycles += step;
      if (!(Math.abs(cycles - startCycles) <= 1)) {
        return Optional.empty();
      }
      if (Math.abs(step) <= 1e-12 * cycles) {
        return Optional.of(fit(y, cycles));
      }
    }
    return Optional.empty();
  }

  private static void checkCycles(double cycles, int n) {
    if (!(cycles > 0 && cycles < n / 2.0)) {
      throw new IllegalArgumentException(
          "cycles must lie between 0 and " + n / 2.0 + ", was " + cycles);
    }
  }

  private static SineFit fit(double[] y, double cycles) {
    int n = y.length;
    double[][] design = new double[n][3];
    double w = 2 * Math.PI * cycles / n;
    for (int i = 0; i < n; i++) {
      design[i][0] = Math.cos(w * i);
      design[i][1] = Math.sin(w * i);
      design[i][2] = 1;
    }
    double[] p = solve(design, y);
    double sum = 0;
    for (int i = 0; i < n; i++) {
      double residual = y[i] - p[0] * design[i][0] - p[1] * design[i][1] - p[2];
      sum += residual * residual;
    }
    return new SineFit(cycles, p[0], p[1], p[2], Math.sqrt(sum / n));
  }

  private static double cycleStep(double[] y, SineFit now) {
    int n = y.length;
    double[][] design = new double[n][4];
    double w = 2 * Math.PI * now.cycles / n;
    for (int i = 0; i < n; i++) {
      double cos = Math.cos(w * i);
      double sin = Math.sin(w * i);
      design[i][0] = cos;
      design[i][1] = sin;
      design[i][2] = 1;
      design[i][3] = 2 * Math.PI * i / n * (now.sine * cos - now.cosine * sin);
    }
    return solve(design, y)[3];
  }

  private static double[] solve(double[][] design, double[] y) {
    return new QRDecomposition(new Array2DRowRealMatrix(design, false))
        .getSolver()
        .solve(new ArrayRealVector(y))
        .toArray();
  }

  /** The amplitude in codes. */
  public double amplitude() {
    return Math.hypot(cosine, sine);
  }

  /** The ratio of the sine to noise and distortion, in decibel. */
  public double sinadDecibel() {
    return 20 * Math.log10(amplitude() / Math.sqrt(2) / noiseAndDistortion);
  }

  /** The effective number of bits against a full scale in codes. */
  public double effectiveNumberOfBits(double fullScaleCodes) {
    return Resolution.effectiveNumberOfBits(fullScaleCodes, noiseAndDistortion);
  }
}
