package lotproof.gather;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import lotproof.folder.Fixtures;
import lotproof.folder.StudyFolder;
import lotproof.gather.EntryDrafts.Begun;
import lotproof.gather.EntryDrafts.EntryDraft;
import lotproof.gather.EntryDrafts.Kept;
import lotproof.gather.EntryDrafts.Leftover;
import lotproof.gather.EntryDrafts.Start;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.BenchTimes;
import lotproof.study.Design.PlannedPair;
import lotproof.study.PlannedRun;
import lotproof.study.Reading;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Several clients on one study: who has which run, and that no typed value is lost. */
class EntryDraftsTest {
  private static final Clock CLOCK =
      Clock.fixed(Instant.parse("2026-11-30T14:03:00Z"), ZoneOffset.UTC);
  private static final long SEED = 20261130;

  @TempDir private Path temp;
  private StudyFolder folder;
  private BenchPlan plan;
  private final List<EntryDrafts> clients = new ArrayList<>();

  @BeforeEach
  void newStudy() {
    folder = Fixtures.folder(temp.resolve("study"));
    PlannedPair pair = Fixtures.opened(folder).study().design().pairs().get(0);
    List<PlannedRun> runs = new ArrayList<>();
    for (int i = 1; i <= 4; i++) {
      runs.add(new PlannedRun(1, "S01", "S01-0" + i, pair.cell(), pair.board(), i));
    }
    plan =
        new BenchPlan(
            "test",
            new BenchTimes(8, 12, 20, 8),
            new Assumed.AtLevel("test", "none", 0, 1, 1, 0, 1, 0, 0),
            runs);
  }

  @AfterEach
  void close() throws IOException {
    for (EntryDrafts client : clients) {
      client.close();
    }
  }

  private TypedEntry entry() {
    return TypedEntry.of(folder, Fixtures.opened(folder), Optional.of(plan));
  }

  private EntryDrafts client(String person) throws IOException {
    EntryDrafts client = EntryDrafts.open(folder, entry(), person, CLOCK);
    clients.add(client);
    return client;
  }

  private PlannedRun run(int number) {
    return plan.runs().get(number - 1);
  }

  private static TypedRun granted(Begun begun) {
    assertThat(begun).isInstanceOf(Begun.Granted.class);
    return ((Begun.Granted) begun).run();
  }

  private TypedRun complete(TypedRun run, double by) {
    TypedRun all = run;
    TypedEntry entry = entry();
    for (int step = run.outputCounts().size(); step < entry.loads().size(); step++) {
      all = all.with(1000 + by + Math.rint(85_000 * entry.loads().get(step)));
    }
    return all;
  }

  private List<String> draftFiles() throws IOException {
    try (Stream<Path> files = Files.list(folder.root().resolve("bench/drafts"))) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> !name.startsWith("."))
          .toList();
    }
  }

  @Test
  void whatWasTypedIsThereForTheNextClientOfThePerson() throws IOException {
    EntryDrafts first = client("Ann");
    TypedRun run =
        granted(first.begin(run(1), Start.PLAIN))
            .with(1000.5)
            .with(86000)
            .withTemperatures(OptionalDouble.of(21.5), OptionalDouble.empty())
            .withRemark("a \"note\", with a comma\nand a line");
    assertThat(first.keep(run)).isInstanceOf(Kept.InDraft.class);
    first.close();
    EntryDrafts next = client("Ann");
    assertThat(next.next(Set.of())).contains(run(1));
    assertThat(granted(next.begin(run(1), Start.PLAIN))).isEqualTo(run);
    assertThat(Fixtures.opened(folder).readings()).isEmpty();
  }

  @Test
  void aRunInHandIsNotOfferedAndToldWithItsPersonAndTime() throws IOException {
    EntryDrafts ann = client("Ann");
    ann.keep(granted(ann.begin(run(1), Start.PLAIN)).with(1000));
    EntryDrafts bob = client("Bob");
    assertThat(bob.next(Set.of())).contains(run(2));
    Begun begun = bob.begin(run(1), Start.PLAIN);
    assertThat(begun).isInstanceOf(Begun.Held.class);
    EntryDraft by = ((Begun.Held) begun).by();
    assertThat(by.person()).isEqualTo("Ann");
    assertThat(by.since()).isEqualTo(LocalDateTime.parse("2026-11-30T14:03:00"));
    assertThat(by.run().outputCounts()).containsExactly(1000.0);
    assertThat(by.isElsewhere()).isTrue();
    // a second client of the same person has it as little
    assertThat(client("Ann").begin(run(1), Start.PLAIN)).isInstanceOf(Begun.Held.class);
  }

  @Test
  void aRunThatIsTakenOverStaysWithBoth() throws IOException {
    EntryDrafts ann = client("Ann");
    TypedRun hers = granted(ann.begin(run(1), Start.PLAIN)).with(1000).with(86000);
    ann.keep(hers);
    EntryDrafts bob = client("Bob");
    TypedRun his = granted(bob.begin(run(1), Start.TAKE_OVER));
    assertThat(his.outputCounts()).isEqualTo(hers.outputCounts());
    bob.keep(his.with(4000));
    Kept kept = ann.keep(hers.with(5000));
    assertThat(kept).isInstanceOf(Kept.TakenOver.class);
    Kept.TakenOver taken = (Kept.TakenOver) kept;
    assertThat(taken.by().orElseThrow().person()).isEqualTo("Bob");
    assertThat(Files.readString(folder.root().resolve(taken.draft().orElseThrow())))
        .contains("Ann")
        .contains("5000");
    assertThat(bob.drafts())
        .extracting(draft -> draft.run().outputCounts())
        .containsExactlyInAnyOrder(
            List.of(1000.0, 86000.0, 4000.0), List.of(1000.0, 86000.0, 5000.0));
    assertThat(bob.keep(his.with(4000).with(4001))).isInstanceOf(Kept.InDraft.class);
  }

  @Test
  void theSamePersonTakesADraftOverFromAnotherClient() throws IOException {
    EntryDrafts first = client("lab");
    TypedRun run = granted(first.begin(run(1), Start.PLAIN)).with(1000);
    first.keep(run);
    EntryDrafts second = client("lab");
    assertThat(granted(second.begin(run(1), Start.TAKE_OVER))).isEqualTo(run);
    second.keep(run.with(2000));
    Kept kept = first.keep(run.with(3000));
    assertThat(((Kept.TakenOver) kept).draft()).isEmpty();
    assertThat(second.drafts().get(0).run().outputCounts()).containsExactly(1000.0, 2000.0);
    assertThat(first.leave(run)).isTrue();
    assertThat(second.keep(run.with(2000).with(2001))).isInstanceOf(Kept.InDraft.class);
  }

  @Test
  void aDraftThatWasLeftIsOfferedToOthersByAsking() throws IOException {
    EntryDrafts ann = client("Ann");
    TypedRun hers = granted(ann.begin(run(1), Start.PLAIN)).with(1000);
    ann.leave(hers);
    EntryDrafts bob = client("Bob");
    assertThat(bob.next(Set.of())).contains(run(1));
    assertThat(bob.begin(run(1), Start.PLAIN)).isInstanceOf(Begun.LeftBehind.class);
    TypedRun anew = granted(bob.begin(run(1), Start.ANEW));
    assertThat(anew.outputCounts()).isEmpty();
    bob.keep(anew.with(1));
    // she did not lose hers, and is told that he is at it
    assertThat(ann.begin(run(1), Start.PLAIN)).isInstanceOf(Begun.Held.class);
    bob.leave(anew.with(1));
    assertThat(granted(ann.begin(run(1), Start.PLAIN))).isEqualTo(hers);
  }

  @Test
  void aRunOfWhichNothingWasTypedLeavesNoDraft() throws IOException {
    EntryDrafts ann = client("Ann");
    assertThat(ann.leave(granted(ann.begin(run(1), Start.PLAIN)))).isFalse();
    assertThat(draftFiles()).isEmpty();
  }

  @Test
  void theDraftGoesWhenTheRecordHoldsTheRun() throws IOException {
    EntryDrafts ann = client("Ann");
    TypedRun run = complete(granted(ann.begin(run(1), Start.PLAIN)), 0);
    Kept kept = ann.record(run);
    assertThat(((Kept.InRecord) kept).outcome()).matches(Imports::isNew);
    assertThat(draftFiles()).isEmpty();
    assertThat(client("Bob").begin(run(1), Start.PLAIN)).isInstanceOf(Begun.Recorded.class);
  }

  @Test
  void aRunIsRecordedOnceAndTheLoserKeepsHisDraft() throws IOException {
    EntryDrafts ann = client("Ann");
    TypedRun hers = complete(granted(ann.begin(run(1), Start.PLAIN)), 0);
    ann.keep(hers);
    EntryDrafts bob = client("Bob");
    TypedRun his = granted(bob.begin(run(1), Start.TAKE_OVER));
    while (!his.outputCounts().isEmpty()) {
      his = his.back().orElseThrow();
    }
    his = complete(his, 7);
    assertThat(((Kept.InRecord) bob.record(his)).outcome()).matches(Imports::isNew);
    assertThat(ann.record(hers)).isInstanceOf(Kept.TakenOver.class);
    List<Reading> readings = Fixtures.opened(folder).readings();
    assertThat(readings.stream().map(Reading::outputCounts)).isEqualTo(his.outputCounts());
    ann.close();
    List<Leftover> left = client("Ann").leftovers();
    assertThat(left).hasSize(1);
    assertThat(left.get(0).why()).isEqualTo(Leftover.Why.RECORDED_OTHERWISE);
    assertThat(Files.readString(folder.root().resolve(left.get(0).file()))).contains("Ann");
  }

  @Test
  void aDraftThatStandsInTheRecordWholeIsClearedAway() throws IOException {
    EntryDrafts ann = client("Ann");
    TypedRun hers = granted(ann.begin(run(1), Start.PLAIN)).with(1000);
    ann.leave(hers);
    EntryDrafts bob = client("Bob");
    bob.record(complete(granted(bob.begin(run(1), Start.TAKE_OVER)), 0));
    assertThat(draftFiles()).isEmpty();
    assertThat(client("Ann").leftovers()).isEmpty();
  }

  @Test
  void aDamagedDraftIsToldAndStays() throws IOException {
    EntryDrafts ann = client("Ann");
    ann.leave(granted(ann.begin(run(1), Start.PLAIN)).with(1000));
    Path file = folder.root().resolve("bench/drafts").resolve(draftFiles().get(0));
    for (byte[] bytes : List.of("x".getBytes(StandardCharsets.UTF_8), new byte[] {-1, 0})) {
      Files.write(file, bytes);
      assertThat(client("Ann").leftovers())
          .extracting(Leftover::why)
          .containsExactly(Leftover.Why.DAMAGED);
      assertThat(Files.readAllBytes(file)).isEqualTo(bytes);
    }
  }

  @Test
  void personsAndRunsWithAlikeNamesHaveDraftsOfTheirOwn() throws IOException {
    for (String person : List.of("Ann B", "Ann_B", "ann b", "Än/../B")) {
      EntryDrafts client = client(person);
      Begun begun = client.begin(run(1), Start.PLAIN);
      TypedRun run =
          begun instanceof Begun.Granted granted
              ? granted.run()
              : granted(client.begin(run(1), Start.ANEW));
      client.leave(run.with(clients.size()));
    }
    assertThat(draftFiles()).hasSize(4);
  }

  @Test
  void ofManyClientsAtOnceOneGetsTheRun() throws Exception {
    Random random = new Random(SEED);
    ExecutorService threads = Executors.newFixedThreadPool(4);
    try {
      for (int round = 0; round < 10; round++) {
        PlannedRun run = run(1 + random.nextInt(4));
        CyclicBarrier barrier = new CyclicBarrier(4);
        List<Future<Begun>> answers = new ArrayList<>();
        List<EntryDrafts> racing = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
          EntryDrafts client = client(i < 2 ? "lab" : "person " + i);
          racing.add(client);
          Callable<Begun> begin =
              () -> {
                barrier.await();
                return client.begin(run, Start.PLAIN);
              };
          answers.add(threads.submit(begin));
        }
        int granted = 0;
        for (Future<Begun> answer : answers) {
          granted += answer.get() instanceof Begun.Granted ? 1 : 0;
        }
        assertThat(granted).as("seed %d, round %d", SEED, round).isEqualTo(1);
        for (int i = 0; i < 4; i++) {
          racing.get(i).leave(TypedRun.of(run));
        }
      }
    } finally {
      threads.shutdownNow();
    }
  }
}
