package lotproof.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.gauge.CheckStandardChart;
import lotproof.study.Kit;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;
import org.junit.jupiter.api.Test;

class CheckStandardResultTest {
  private static final Kit KIT =
      new Kit("cell", "board", 50, 80_000, 2_000_000, OptionalInt.empty());

  private static List<ReducedRun> runs(int count, IntToDoubleFunction relative) {
    List<LoadRun> runs = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double factor = 80_000 * (1 + relative.applyAsDouble(i));
      List<Reading> readings = new ArrayList<>();
      double[] loads = {0, 50, 0};
      for (int step = 0; step < loads.length; step++) {
        readings.add(
            new Reading(
                "S",
                Optional.empty(),
                "R" + i,
                step + 1,
                "C",
                "B",
                loads[step],
                factor * loads[step],
                Reading.Beside.NOTHING,
                new Provenance("f.csv", "0".repeat(64), 1 + step),
                0));
      }
      runs.add(new LoadRun("R" + i, "C", "B", readings));
    }
    return new LoadRunReduction(KIT, Study.ReferenceLine.TERMINAL).reduce(runs).runs();
  }

  private static CheckStandardResult.Behaviour behaviour(List<ReducedRun> runs) {
    return CheckStandardResult.of(runs).orElseThrow().behaviour();
  }

  private static CheckStandardResult.Judged judged(List<ReducedRun> runs) {
    return (CheckStandardResult.Judged) behaviour(runs);
  }

  @Test
  void aSteadyBenchSeldomAlarms() {
    int alarmed = 0;
    for (long seed = 1; seed <= 200; seed++) {
      Random random = new Random(seed);
      double[] noise = random.doubles(30).map(u -> 1e-5 * random.nextGaussian()).toArray();
      alarmed += judged(runs(30, i -> noise[i])).steady() ? 0 : 1;
    }
    // 20 later runs under three rules of 0.0027 each, and a trend of 0.01
    assertThat(alarmed / 200.0).as("seeds 1 to 200").isBetween(0.02, 0.25);
  }

  @Test
  void aStepAndATrendAreSeen() {
    Random random = new Random(5);
    double[] noise = random.doubles(30).map(u -> 1e-5 * random.nextGaussian()).toArray();
    CheckStandardResult.Judged step = judged(runs(30, i -> noise[i] + (i == 20 ? 2e-4 : 0)));
    assertThat(step.alarms())
        .extracting(CheckStandardResult.Alarm::run, CheckStandardResult.Alarm::signal)
        .contains(tuple("R20", CheckStandardChart.Signal.BEYOND_LIMITS));
    assertThat(judged(runs(30, i -> noise[i] + 5e-6 * i)).hasTrend()).isTrue();
  }

  @Test
  void fewRunsAreNotJudged() {
    assertThat(behaviour(runs(5, i -> 0))).isEqualTo(new CheckStandardResult.NotYet(5));
    assertThat(behaviour(runs(10, i -> 0))).isEqualTo(new CheckStandardResult.NotYet(10));
  }
}
