package lotproof.gather;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.BenchFolder;
import lotproof.folder.Fixtures;
import lotproof.folder.StudyFolder;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.BenchTimes;
import lotproof.study.Design.PlannedPair;
import lotproof.study.PlannedRun;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TypedEntryTest {
  @TempDir private Path temp;
  private StudyFolder folder;
  private Study study;
  private BenchPlan plan;

  @BeforeEach
  void newStudy() {
    folder = Fixtures.folder(temp.resolve("study"));
    study = Fixtures.opened(folder).study();
    PlannedPair pair = study.design().pairs().get(0);
    plan =
        new BenchPlan(
            "test",
            new BenchTimes(8, 12, 20, 8),
            new Assumed.AtLevel("test", "none", 0, 1, 1, 0, 1, 0, 0),
            List.of(
                new PlannedRun(1, "S01", "S01-01", pair.cell(), pair.board(), 1),
                new PlannedRun(1, "S01", "S01-02", pair.cell(), pair.board(), 2)));
  }

  private TypedEntry entry() {
    return TypedEntry.of(folder, Fixtures.opened(folder), Optional.of(plan));
  }

  private double expected(int step) {
    return 1000
        + study.design().loadsKilograms().get(step) * study.kit().defaultFactorCountsPerKilogram();
  }

  private TypedRun complete(TypedEntry entry) {
    TypedRun run = TypedRun.of(entry.open().get(0));
    for (int step = 0; step < entry.loads().size(); step++) {
      run = run.with(expected(step));
    }
    return run;
  }

  @Test
  void aStepBackTakesOneValue() {
    TypedRun run = TypedRun.of(entry().open().get(0)).with(1).with(2);
    TypedRun back = run.back().orElseThrow();
    assertThat(back.outputCounts()).containsExactly(1.0);
    assertThat(back.back().orElseThrow().back()).isEmpty();
  }

  @Test
  void aFinishedRunIsTheRecord() {
    TypedEntry entry = entry();
    TypedRun run = complete(entry).withRemark("windy");
    assertThat(entry.finish(run)).matches(Imports::isNew);
    List<Reading> readings = Fixtures.opened(folder).readings();
    assertThat(readings).hasSize(entry.loads().size());
    assertThat(readings.get(1).outputCounts()).isEqualTo(expected(1));
    assertThat(readings.get(readings.size() - 1).beside().remark()).isEqualTo("windy");
    assertThat(entry.open()).extracting(PlannedRun::run).containsExactly("S01-02");
    assertThat(entry().open()).extracting(PlannedRun::run).containsExactly("S01-02");
  }

  @Test
  void theOriginalOfATypedRunImportsAsTheSameReadings() throws IOException {
    TypedEntry entry = entry();
    entry.finish(complete(entry).withTemperatures(OptionalDouble.of(20), OptionalDouble.of(21)));
    Path original;
    try (var files = Files.list(folder.root().resolve(StudyFolder.CAPTURES))) {
      original = files.findFirst().orElseThrow();
    }
    Path copy = Files.copy(original, temp.resolve("typed.csv"));
    StudyFolder other = Fixtures.folder(temp.resolve("other"));
    assertThat(Imports.importFile(other, copy, Imports.TEXT_ONLY)).matches(Imports::isNew);
    List<Reading> here = Fixtures.opened(folder).readings();
    List<Reading> there = Fixtures.opened(other).readings();
    assertThat(there)
        .extracting(Reading::outputCounts)
        .isEqualTo(here.stream().map(Reading::outputCounts).toList());
    assertThat(there)
        .extracting(r -> r.beside().cellTemperatureCelsius())
        .containsOnly(OptionalDouble.of(20));
  }

  @Test
  void aRunUnderAnotherNameCountsForThePair() {
    TypedEntry byPairs = TypedEntry.of(folder, Fixtures.opened(folder), Optional.empty());
    int before = byPairs.open().size();
    byPairs.finish(complete(byPairs));
    assertThat(TypedEntry.of(folder, Fixtures.opened(folder), Optional.empty()).open())
        .hasSize(before - 1);
    assertThat(entry().open()).hasSize(1);
  }

  @Test
  void valuesAreHeldAgainstWhatIsKnown() {
    TypedEntry entry = entry();
    TypedRun run = TypedRun.of(entry.open().get(0)).with(1000);
    assertThat(entry.doubt(run, expected(1))).isEmpty();
    assertThat(entry.doubt(run, expected(1) / 10).orElseThrow()).contains("default factor");
    assertThat(entry.doubt(run, 1000).orElseThrow()).contains("same value");
    assertThat(entry.doubt(run, -expected(1))).isPresent();
  }

  @Test
  void thePlanOfTheBenchIsReadBack() {
    assertThat(folder.bench().plan()).isEqualTo(Result.of(Optional.empty()));
    folder.bench().put(BenchFolder.PLAN, BenchFolder.bytes(plan));
    assertThat(folder.bench().plan()).isEqualTo(Result.of(Optional.of(plan)));
    byte[] half = java.util.Arrays.copyOf(BenchFolder.bytes(plan), 200);
    folder.bench().put(BenchFolder.PLAN, half);
    assertThat(folder.bench().plan().issues().get(0).sentence())
        .contains("bench/plan.json")
        .contains("not a bench plan");
  }
}
