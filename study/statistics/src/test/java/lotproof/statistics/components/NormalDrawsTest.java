package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.ForkJoinTask;
import java.util.stream.IntStream;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;
import org.junit.jupiter.api.Test;

/** Against the sampler itself, however the numbers are asked for. */
class NormalDrawsTest {
  private static final long SEED = 41;

  private static double[] expected(int count) {
    NormalizedGaussianSampler sampler =
        ZigguratSampler.NormalizedGaussian.of(RandomSource.XO_SHI_RO_256_PP.create(SEED));
    return IntStream.range(0, count).mapToDouble(i -> sampler.sample()).toArray();
  }

  @Test
  void moreNumbersGoOnWhereTheFirstEnded() {
    NormalDraws normals = new NormalDraws(SEED);
    for (int count : new int[] {3, 0, 100, 40, 1000}) {
      assertThat(Arrays.copyOf(normals.first(count), count)).containsExactly(expected(count));
    }
  }

  @Test
  void threadsGetTheSame() {
    NormalDraws normals = new NormalDraws(SEED);
    ForkJoinPool pool = new ForkJoinPool(4);
    try {
      List<ForkJoinTask<double[]>> asked =
          IntStream.range(1, 40)
              .mapToObj(i -> pool.submit(() -> Arrays.copyOf(normals.first(50 * i), 50 * i)))
              .toList();
      asked.forEach(task -> assertThat(task.join()).containsExactly(expected(task.join().length)));
    } finally {
      pool.shutdown();
    }
  }
}
