package lotproof.benchmarks;

import com.sun.management.OperatingSystemMXBean;
import java.lang.management.ManagementFactory;
import java.util.Collection;
import java.util.List;
import org.openjdk.jmh.infra.BenchmarkParams;
import org.openjdk.jmh.infra.IterationParams;
import org.openjdk.jmh.profile.InternalProfiler;
import org.openjdk.jmh.results.AggregationPolicy;
import org.openjdk.jmh.results.IterationResult;
import org.openjdk.jmh.results.Result;
import org.openjdk.jmh.results.ScalarResult;

/**
 * Processor time of the whole process for each operation, compiler and garbage collector included:
 * what a benchmark costs on a machine that has other work to do as well. Use with {@code -prof
 * lotproof.benchmarks.ProcessorTime}.
 */
public final class ProcessorTime implements InternalProfiler {
  private final OperatingSystemMXBean system =
      ManagementFactory.getPlatformMXBean(OperatingSystemMXBean.class);
  private long startNanoseconds;

  @Override
  public String getDescription() {
    return "processor time of the process";
  }

  @Override
  public void beforeIteration(BenchmarkParams benchmark, IterationParams iteration) {
    startNanoseconds = system.getProcessCpuTime();
  }

  @Override
  public Collection<? extends Result<?>> afterIteration(
      BenchmarkParams benchmark, IterationParams iteration, IterationResult result) {
    double nanoseconds = system.getProcessCpuTime() - startNanoseconds;
    double seconds = nanoseconds / 1e9 / result.getMetadata().getAllOps();
    return List.of(new ScalarResult("processor", seconds, "s/op", AggregationPolicy.AVG));
  }
}
