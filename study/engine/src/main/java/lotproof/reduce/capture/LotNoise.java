package lotproof.reduce.capture;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import lotproof.statistics.outliers.ModifiedZ;

/**
 * Captures with more noise than their fellows.
 *
 * <p>Logarithms of the standard deviation, and of the noise from sample to sample, are compared by
 * modified z scores: median and median distance stay put while up to half of the captures are bad.
 * Above 3.5 a capture is named. The rule points, it proves nothing; causes are hints (common
 * practice, no source).
 *
 * @param compared how many captures had noise to compare
 * @param excess captures that stand out, in their order
 * @param ratesDiffer whether their sampling rates differ by more than 5 %, so that noise compares
 *     badly
 */
public record LotNoise(int compared, List<Excess> excess, boolean ratesDiffer) {
  private static final int LEAST = 5;
  private static final double RATE_TOLERANCE = 1.05;

  /**
   * A capture that stands out.
   *
   * @param capture its number in the list, from 0
   * @param noiseRatio its standard deviation over the median of all
   * @param shortTermRatio its noise from sample to sample over the median of all
   * @param hint a plausible cause, to be checked
   */
  public record Excess(int capture, double noiseRatio, double shortTermRatio, String hint) {}

  public LotNoise {
    excess = List.copyOf(excess);
  }

  /** Compares captures; nothing stands out among fewer than five. */
  public static LotNoise of(List<CaptureNoise> captures) {
    List<Integer> noisy =
        IntStream.range(0, captures.size())
            .filter(i -> captures.get(i).good().sd() > 0 && captures.get(i).shortTermNoise() > 0)
            .boxed()
            .toList();
    List<Excess> excess = new ArrayList<>();
    if (noisy.size() >= LEAST) {
      Compared slow = new Compared(noisy, i -> captures.get(i).good().sd());
      Compared fast = new Compared(noisy, i -> captures.get(i).shortTermNoise());
      for (int at = 0; at < noisy.size(); at++) {
        if (slow.isFar(at) || fast.isFar(at)) {
          int capture = noisy.get(at);
          String hint = hint(captures.get(capture), fast.isFar(at));
          excess.add(new Excess(capture, slow.ratio(at), fast.ratio(at), hint));
        }
      }
    }
    return new LotNoise(noisy.size(), excess, ratesDiffer(captures));
  }

  /** Logarithms of one kind of noise, and their scores; none where all are equal. */
  private static final class Compared {
    private final double[] logarithms;
    private final List<Double> scores;

    Compared(List<Integer> noisy, ToDoubleFunction<Integer> noise) {
      logarithms = noisy.stream().mapToDouble(i -> Math.log(noise.applyAsDouble(i))).toArray();
      scores = ModifiedZ.of(logarithms).map(ModifiedZ::scores).orElse(List.of());
    }

    boolean isFar(int at) {
      return !scores.isEmpty() && scores.get(at) > ModifiedZ.CUSTOMARY_THRESHOLD;
    }

    double ratio(int at) {
      return Math.exp(logarithms[at] - lotproof.statistics.summary.Summary.median(logarithms));
    }
  }

  private static String hint(CaptureNoise noise, boolean quick) {
    boolean mains = noise.periodic().stream().anyMatch(p -> !p.mainsAlias().isEmpty());
    if (mains) {
      return "mains pick-up: shield, earth, or a lamp nearby";
    }
    if (noise.faults().popcorn()) {
      return "steps between levels: the amplifier, or a poor joint";
    }
    if (!quick) {
      return "slow only: warming up, creep, or a draught";
    }
    return "from sample to sample: supply, reference, a loose contact, or another gain or rate";
  }

  private static boolean ratesDiffer(List<CaptureNoise> captures) {
    double[] steps =
        captures.stream().flatMapToDouble(c -> c.secondsPerSample().stream()).sorted().toArray();
    return steps.length > 1 && steps[steps.length - 1] > RATE_TOLERANCE * steps[0];
  }

  /**
   * One number of many captures in short, by its order statistics: the least, the median (the lower
   * one of an even number), what 95 % of the captures have at most about, the largest, and which
   * capture has it, counted from 0.
   */
  public record Summary(
      double least, double median, double mostly, double largest, int largestCapture) {

    /** Summarises one or more captures. */
    public static Summary of(List<CaptureNoise> captures, ToDoubleFunction<CaptureNoise> number) {
      double[] values = captures.stream().mapToDouble(number).toArray();
      List<Integer> ordered =
          IntStream.range(0, values.length)
              .boxed()
              .sorted(Comparator.comparingDouble(i -> values[i]))
              .toList();
      int last = ordered.size() - 1;
      return new Summary(
          values[ordered.get(0)],
          values[ordered.get(last / 2)],
          values[ordered.get((int) Math.floor(0.95 * last))],
          values[ordered.get(last)],
          ordered.get(last));
    }
  }
}
