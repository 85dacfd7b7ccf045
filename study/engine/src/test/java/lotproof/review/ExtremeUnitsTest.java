package lotproof.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.folder.StudyFolder;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.Runs;
import lotproof.study.Characteristic;
import lotproof.study.Reading;
import lotproof.study.Study;
import org.junit.jupiter.api.Test;

class ExtremeUnitsTest {
  private static final Path DEMO = Path.of("..", "..", "demo-data", "hive-scale");

  /** Where most values are equal there is no robust scale, yet what differs still stands out. */
  @Test
  void findsTheOddOnesAmongEqualValues() {
    Study study = StudyFolder.at(DEMO).open().get().study();
    List<LoadRun> runs = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      double zero = i == 3 ? 900 : i == 7 ? 700 : 100;
      runs.add(
          Runs.run(
              "R" + i,
              "C" + i,
              "B" + i,
              new double[] {0, 20, 50},
              new double[] {zero, zero + 20_000, zero + 50_000}));
    }
    List<Finding> findings =
        new ExtremeUnits(study, List.of())
            .of(new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL).reduce(runs).runs());
    assertThat(findings)
        .filteredOn(f -> f.characteristic() == Characteristic.ZERO)
        .extracting(Finding::serial)
        .containsExactlyInAnyOrder("R3", "R7");
    assertThat(findings).allSatisfy(f -> assertThat(f.modifiedZ()).isEmpty());
  }

  /** A zero nearer to nothing than that of the others is what a buyer would like. */
  @Test
  void tellsWhatStandsOutOnTheGoodSide() {
    Study study = StudyFolder.at(DEMO).open().get().study();
    List<LoadRun> runs = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      double zero = i == 3 ? 900 : i == 7 ? 100 : 500 + i;
      runs.add(
          Runs.run(
              "R" + i,
              "C" + i,
              "B" + i,
              new double[] {0, 20, 50},
              new double[] {zero, zero + 20_000, zero + 50_000}));
    }
    List<Finding> findings =
        new ExtremeUnits(study, List.of())
            .of(new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL).reduce(runs).runs());
    assertThat(findings)
        .filteredOn(f -> f.characteristic() == Characteristic.ZERO)
        .extracting(Finding::serial, Finding::favourable)
        .containsExactlyInAnyOrder(tuple("R3", false), tuple("R7", true));
  }

  /** Every reading from a capture says so; only what it says of trouble is a sign. */
  @Test
  void signsOfTroubleInCapturesStandBesideWhatStandsOut() {
    Study study = StudyFolder.at(DEMO).open().get().study();
    List<LoadRun> runs = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      double zero = i == 3 ? 900 : 100 + i;
      LoadRun run =
          Runs.run(
              "R" + i,
              "C" + i,
              "B" + i,
              new double[] {0, 20, 50},
              new double[] {zero, zero + 20_000, zero + 50_000});
      List<Reading> noted = new ArrayList<>();
      for (Reading reading : run.readings()) {
        String drifts = i == 3 && reading.step() == 2 ? ", the level drifts" : "";
        noted.add(noted(reading, "capture of 80 samples" + drifts));
      }
      runs.add(new LoadRun(run.name(), run.cell(), run.board(), noted));
    }
    List<Finding> findings =
        new ExtremeUnits(study, List.of())
            .of(new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL).reduce(runs).runs());
    assertThat(findings)
        .filteredOn(f -> f.serial().equals("R3") && f.characteristic() == Characteristic.ZERO)
        .singleElement()
        .satisfies(
            f ->
                assertThat(f.signs())
                    .containsExactly(
                        new Finding.Sign(
                            "R3",
                            "capture of 80 samples, the level drifts",
                            OptionalDouble.empty())));
  }

  private static Reading noted(Reading reading, String remark) {
    return new Reading(
        reading.session(),
        reading.time(),
        reading.run(),
        reading.step(),
        reading.cell(),
        reading.board(),
        reading.loadKilograms(),
        reading.outputCounts(),
        new Reading.Beside(
            reading.beside().noiseCounts(),
            reading.beside().cellTemperatureCelsius(),
            reading.beside().boardTemperatureCelsius(),
            remark),
        reading.source(),
        reading.recordLine());
  }
}
