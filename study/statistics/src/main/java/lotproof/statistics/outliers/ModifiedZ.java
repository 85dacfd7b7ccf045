package lotproof.statistics.outliers;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Modified z scores: M = 0.6745 (y - median) / MAD, with MAD the median of |y - median|.
 *
 * <p>Median and MAD stay put while up to half of the values are bad, so extreme values cannot hide
 * each other. Values with |M| above 3.5 are worth a look (Iglewicz and Hoaglin 1993); this is a
 * rule of thumb, not a test with a level.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.17.
 *
 * @param mad median of the distances from the median, above 0
 * @param scores M of each value
 */
public record ModifiedZ(double mad, List<Double> scores) {
  /** The customary distance beyond which a value is worth a look. */
  public static final double CUSTOMARY_THRESHOLD = 3.5;

  public ModifiedZ {
    scores = List.copyOf(scores);
  }

  /** Positions of the values farther out than the customary threshold. */
  public List<Integer> beyond() {
    return IntStream.range(0, scores.size())
        .filter(i -> Math.abs(scores.get(i)) > CUSTOMARY_THRESHOLD)
        .boxed()
        .toList();
  }

  /**
   * The scores of three or more values.
   *
   * @return empty when more than half of the values are equal, so that there is no scale
   */
  public static Optional<ModifiedZ> of(double[] values) {
    double[] y = Checks.sample(values, 3, "values");
    double median = Summary.median(y);
    double mad = Summary.median(Arrays.stream(y).map(v -> Math.abs(v - median)).toArray());
    return mad > 0
        ? Optional.of(
            new ModifiedZ(
                mad, Arrays.stream(y).mapToObj(v -> 0.6745 * (v - median) / mad).toList()))
        : Optional.empty();
  }
}
