package lotproof.claim.premise;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lotproof.study.BenchTimes;
import org.junit.jupiter.api.Test;

class BenchFindingsTest {
  @Test
  void timeLeftByThePlan() {
    BenchFindings.TimeLeft left = BenchFindings.planned(16, new BenchTimes(8, 12, 20, 8));
    assertThat(left.hours()).isEqualTo((2 * 20 + (16 + 6) * 20) / 60.0);
    assertThat(BenchFindings.planned(0, new BenchTimes(8, 12, 20, 8)).hours()).isZero();
    assertThat(BenchFindings.measured(3, List.of(), 0)).isEmpty();
  }
}
