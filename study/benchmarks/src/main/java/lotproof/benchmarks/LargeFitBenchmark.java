package lotproof.benchmarks;

import java.util.concurrent.TimeUnit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.Observations;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** 1000 cells on 1000 boards, 200,000 readings; the heap is held to 768 MB. */
@State(Scope.Thread)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(value = 1, jvmArgsAppend = "-Xmx768m")
@Warmup(iterations = 1)
@Measurement(iterations = 3)
public class LargeFitBenchmark {
  private final Observations observations =
      InventedStudy.scattered(1000, 1000, 200_000, 2).observations();

  @Benchmark
  public FitOutcome fitOfLargeStudy() {
    return ComponentsFitter.fit(observations, FitOptions.REML);
  }
}
