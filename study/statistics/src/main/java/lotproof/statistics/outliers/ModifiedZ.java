package lotproof.statistics.outliers;

import java.util.List;
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
 */
public sealed interface ModifiedZ {
  /** The customary distance beyond which a value is worth a look. */
  double CUSTOMARY_THRESHOLD = 3.5;

  /** The scores exist. */
  record Scores(double median, double mad, List<Double> scores) implements ModifiedZ {
    public Scores {
      scores = List.copyOf(scores);
    }

    /** Positions of the values farther out than a threshold. */
    public List<Integer> beyond(double threshold) {
      return IntStream.range(0, scores.size())
          .filter(i -> Math.abs(scores.get(i)) > threshold)
          .boxed()
          .toList();
    }
  }

  /** More than half of the values are equal, so that the MAD is zero and no score exists. */
  record NoScale(double median) implements ModifiedZ {}

  /** The scores of three or more values. */
  static ModifiedZ of(double[] values) {
    double[] y = Checks.sample(values, 3, "values");
    double median = Summary.median(y);
    double[] distance = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      distance[i] = Math.abs(y[i] - median);
    }
    double mad = Summary.median(distance);
    if (!(mad > 0)) {
      return new NoScale(median);
    }
    List<Double> scores =
        IntStream.range(0, y.length).mapToObj(i -> 0.6745 * (y[i] - median) / mad).toList();
    return new Scores(median, mad, scores);
  }
}
