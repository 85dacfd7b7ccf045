package lotproof.benchmarks;

import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.ProfileIntervals;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** A rotation of 50 cells and 50 boards: 100 pairs read twice, cell + board + pair + residual. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class ComponentsBenchmark {
  private static final int VALUES = 64;
  private static final int WARM_REFITS = 5000;

  private final double[][] values = new double[VALUES][];
  private Observations observations = InventedStudy.rotation(50, 1).observations();
  private ComponentsFit fit = fitted(observations);
  private int next;

  @Setup
  public void prepare() {
    InventedStudy study = InventedStudy.rotation(50, 1);
    observations = study.observations();
    fit = fitted(observations);
    for (int i = 0; i < VALUES; i++) {
      values[i] = study.values();
    }
    // so much work, however long it takes: a busy machine would leave too little in a fixed time
    for (int i = 0; i < WARM_REFITS; i++) {
      ComponentsFitter.fit(fit.observations().withValues(values[i % VALUES]), FitOptions.REML);
    }
  }

  static ComponentsFit fitted(Observations observations) {
    if (ComponentsFitter.fit(observations, FitOptions.REML) instanceof ComponentsFit fit) {
      return fit;
    }
    throw new IllegalStateException("the invented study must be estimable");
  }

  /** The same study with other values, a different set each time. */
  @Benchmark
  public FitOutcome refitOfRotation() {
    next = (next + 1) % VALUES;
    return ComponentsFitter.fit(fit.observations().withValues(values[next]), FitOptions.REML);
  }

  /** From observations, structure and all starts included. */
  @Benchmark
  public FitOutcome fitOfRotation() {
    next = (next + 1) % VALUES;
    return ComponentsFitter.fit(
        new Observations(values[next], observations.factors()), FitOptions.REML);
  }

  @Benchmark
  public List<Interval> profileIntervalsOfRotation() {
    return ProfileIntervals.ofStandardDeviations(fit, 0.95);
  }

  @Benchmark
  public FutureUnitLimits limitsOfRotation() {
    return FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95);
  }
}
