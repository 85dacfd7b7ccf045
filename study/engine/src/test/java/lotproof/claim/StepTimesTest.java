package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.evidence.StepTimes;
import lotproof.reduce.LoadRun;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import org.junit.jupiter.api.Test;

class StepTimesTest {
  private static List<LoadRun> run(int... secondsAfterStart) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < secondsAfterStart.length; i++) {
      Optional<LocalDateTime> time =
          secondsAfterStart[i] < 0
              ? Optional.empty()
              : Optional.of(LocalDateTime.of(2026, 9, 7, 8, 30).plusSeconds(secondsAfterStart[i]));
      readings.add(
          new Reading(
              "S1",
              time,
              "r",
              i + 1,
              "c",
              "b",
              10 * i,
              100 * i,
              Reading.Beside.NOTHING,
              new Provenance("invented.csv", "00", i + 1),
              i + 1));
    }
    return List.of(new LoadRun("r", "c", "b", readings));
  }

  @Test
  void measuresHowFarApartStepsWereRead() {
    assertThat(StepTimes.of(run(0, 60, 150, 360))).contains(new StepTimes(60, 90, 210));
    assertThat(StepTimes.of(run(0, 75, 150))).contains(new StepTimes(75, 75, 75));
  }

  @Test
  void oneTimeForAWholeRunSaysNothing() {
    assertThat(StepTimes.of(run(0, 0, 0))).isEmpty();
    assertThat(StepTimes.of(run(-1, -1))).isEmpty();
  }
}
