package lotproof.reduce.capture;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.statistics.stability.StabilityCurve;
import lotproof.study.KeptSeries;

/** What a series that a study keeps says about averaging. */
public sealed interface SeriesStability {

  /** The series. */
  KeptSeries series();

  /**
   * It was read.
   *
   * @param series the series
   * @param samples how many it has
   * @param secondsPerSample its step; empty without clock and rate, and the curve is by samples
   * @param noiseCounts standard deviation of its samples without glitches
   * @param curve Allan deviation in counts, with intervals
   * @param signs signs of trouble in it
   */
  record Known(
      KeptSeries series,
      long samples,
      OptionalDouble secondsPerSample,
      double noiseCounts,
      StabilityCurve curve,
      List<String> signs)
      implements SeriesStability {
    public Known {
      signs = List.copyOf(signs);
    }
  }

  /**
   * Nothing came of it.
   *
   * @param series the series
   * @param why the reason, in words
   */
  record NotKnown(KeptSeries series, String why) implements SeriesStability {}
}
