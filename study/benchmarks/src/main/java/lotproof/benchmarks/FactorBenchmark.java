package lotproof.benchmarks;

import java.util.concurrent.TimeUnit;
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

/** Exact two-sided tolerance factors, another sample size each time: 2 to 101. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class FactorBenchmark {
  private int n;

  @Benchmark
  public double twoSidedFactor() {
    n = (n + 1) % 100;
    return NormalTolerance.twoSidedFactor(n + 2, 0.95, 0.95);
  }
}
