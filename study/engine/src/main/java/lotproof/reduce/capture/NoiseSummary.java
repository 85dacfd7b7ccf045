package lotproof.reduce.capture;

import java.util.Comparator;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;

/**
 * One number of many captures in short, by its order statistics.
 *
 * @param least the least
 * @param median the median, the lower one of an even number
 * @param mostly 95 % of the captures have at most about this
 * @param largest the largest
 * @param largestCapture which capture has it, counted from 0
 */
public record NoiseSummary(
    double least, double median, double mostly, double largest, int largestCapture) {

  /** Summarises one or more captures. */
  public static NoiseSummary of(
      List<CaptureNoise> captures, ToDoubleFunction<CaptureNoise> number) {
    double[] values = captures.stream().mapToDouble(number).toArray();
    List<Integer> ordered =
        IntStream.range(0, values.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> values[i]))
            .toList();
    int last = ordered.size() - 1;
    return new NoiseSummary(
        values[ordered.get(0)],
        values[ordered.get(last / 2)],
        values[ordered.get((int) Math.floor(0.95 * last))],
        values[ordered.get(last)],
        ordered.get(last));
  }
}
