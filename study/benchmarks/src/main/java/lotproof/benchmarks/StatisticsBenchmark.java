package lotproof.benchmarks;

import java.util.List;
import java.util.concurrent.TimeUnit;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.ProfileIntervals;
import lotproof.statistics.tolerance.NormalTolerance;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** The work that docs/speed.md lists. */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class StatisticsBenchmark {
  private static final int VALUES = 64;
  private static final int WARM_REFITS = 5000;

  /** A rotation of 50 cells and 50 boards: 100 pairs read twice, cell + board + pair + residual. */
  @State(Scope.Thread)
  public static class Rotation {
    private final InventedStudy study = InventedStudy.rotation(50, 1);
    private final ComponentsFit fit = fitted(study.observations());
    private final double[][] values = new double[VALUES][];
    private int next;

    public Rotation() {
      for (int i = 0; i < VALUES; i++) {
        values[i] = study.values();
      }
      // so much work, however long it takes: a busy machine would leave too little in a fixed time
      for (int i = 0; i < WARM_REFITS; i++) {
        refit();
      }
    }

    private FitOutcome refit() {
      next = (next + 1) % VALUES;
      return ComponentsFitter.fit(fit.observations().withValues(values[next]), FitOptions.REML);
    }
  }

  /** 1000 cells on 1000 boards, 200,000 readings. */
  @State(Scope.Thread)
  public static class Large {
    private final Observations observations =
        InventedStudy.scattered(1000, 1000, 200_000, 2).observations();
  }

  /** Sample sizes from 2 to 101, another each time. */
  @State(Scope.Thread)
  public static class Sizes {
    private int next;
  }

  static ComponentsFit fitted(Observations observations) {
    if (ComponentsFitter.fit(observations, FitOptions.REML) instanceof ComponentsFit fit) {
      return fit;
    }
    throw new IllegalStateException("the invented study must be estimable");
  }

  /** The same study with other values, a different set each time. */
  @Benchmark
  public FitOutcome refitOfRotation(Rotation rotation) {
    return rotation.refit();
  }

  @Benchmark
  public List<Interval> profileIntervalsOfRotation(Rotation rotation) {
    return ProfileIntervals.ofStandardDeviations(rotation.fit, 0.95);
  }

  @Benchmark
  @BenchmarkMode(Mode.SingleShotTime)
  @Fork(value = 1, jvmArgsAppend = "-Xmx768m")
  @Warmup(iterations = 1)
  @Measurement(iterations = 3)
  public FitOutcome fitOfLargeStudy(Large large) {
    return ComponentsFitter.fit(large.observations, FitOptions.REML);
  }

  @Benchmark
  public double twoSidedFactor(Sizes sizes) {
    sizes.next = (sizes.next + 1) % 100;
    return NormalTolerance.twoSidedFactor(sizes.next + 2, 0.95, 0.95);
  }
}
