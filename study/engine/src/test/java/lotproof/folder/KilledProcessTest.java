package lotproof.folder;

import static lotproof.folder.Fixtures.batch;
import static lotproof.folder.Fixtures.bench;
import static lotproof.folder.Fixtures.folder;
import static lotproof.folder.Fixtures.opened;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.StudyFiles.FileOperations;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Real processes: one that dies in the middle of an import, and several that import at once. */
@Tag("slow")
class KilledProcessTest {
  private static final int KILLED = 137;
  private static final int LAST_STEP_TRIED = 60;

  @TempDir Path root;

  /** An import in a process of its own that ends without warning at one of its steps. */
  public static final class Child {
    private Child() {}

    public static void main(String[] arguments) {
      Path folder = Path.of(arguments[0]);
      String run = arguments[1];
      int lastStep = Integer.parseInt(arguments[2]);
      FileOperations operations =
          new FailingOperations(
              lastStep,
              FailingOperations.Moment.valueOf(arguments[3]),
              () -> Runtime.getRuntime().halt(KILLED));
      ReceivedFile file = bench(run);
      Result<Appended> outcome =
          StudyFolder.at(folder, operations, Duration.ofSeconds(60))
              .record()
              .append(file, batch(file, run));
      Runtime.getRuntime().halt(outcome.isRefused() ? 1 : 0);
    }
  }

  private static Process start(Path folder, String run, int lastStep, FailingOperations.Moment at)
      throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Child.class.getName(),
                folder.toString(),
                run,
                Integer.toString(lastStep),
                at.name()));
    return new ProcessBuilder(command).inheritIO().start();
  }

  @Test
  void aKillAtAnyStepLeavesTheRecordAsItWasOrAsItShouldBe() throws Exception {
    StudyFolder folder = folder(root);
    ReceivedFile first = bench("R0");
    folder.record().append(first, batch(first, "R0"));
    int readings = 5;
    int kills = 0;
    int step = 1;
    // Once no step is left to die at, the import goes through.
    for (int exit = KILLED; exit == KILLED; step++) {
      assertThat(step).isLessThan(LAST_STEP_TRIED);
      exit = start(root, "R" + step, step, FailingOperations.Moment.HALF_WAY).waitFor();
      kills += exit == KILLED ? 1 : 0;
      int found = opened(folder).readings().size();
      assertThat(found).as("after a kill at step %d", step).isIn(readings, readings + 5);
      readings = found;

      ReceivedFile again = bench("R" + step);
      String run = "R" + step;
      assertThat(folder.record().append(again, batch(again, run))).matches(it -> !it.isRefused());
      readings = opened(folder).readings().size();
      assertThat(readings).isEqualTo(5 * (step + 1));
    }
    assertThat(kills).isGreaterThanOrEqualTo(10);
  }

  /** Imports one file after the other until it is killed. */
  public static final class Busy {
    private Busy() {}

    public static void main(String[] arguments) throws IOException {
      StudyFolder folder = StudyFolder.at(Path.of(arguments[0]));
      FileOutputStream out = new FileOutputStream(FileDescriptor.out);
      for (int i = 0; i < 10_000; i++) {
        String run = arguments[1] + "-" + i;
        ReceivedFile file = bench(run);
        Result<Appended> outcome = folder.record().append(file, batch(file, run));
        if (outcome.isRefused()) {
          Runtime.getRuntime().halt(1);
        }
        // Tells that it is about to begin the next one.
        out.write('\n');
      }
    }
  }

  @Test
  void aKillAtTwoHundredRandomInstantsLeavesTheRecordWhole() throws Exception {
    long seed = 20261125;
    Random random = new Random(seed);
    int killed = 0;
    StudyFolder folder = folder(root);
    int before = 0;
    for (int i = 0; i < 200; i++) {
      if (i % 25 == 0) {
        Path fresh = root.resolve("study-" + i);
        folder = folder(fresh);
        before = 0;
      }
      String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
      Process child =
          new ProcessBuilder(
                  java,
                  "-XX:TieredStopAtLevel=1",
                  "-cp",
                  System.getProperty("java.class.path"),
                  Busy.class.getName(),
                  folder.root().toString(),
                  "K" + i)
              .redirectError(ProcessBuilder.Redirect.INHERIT)
              .start();
      // A random instant within the next import, which takes about as long as the one before.
      int done = 2 + random.nextInt(2);
      long last = System.nanoTime();
      long nanos = 0;
      for (int k = 0; k < done; k++) {
        assertThat(child.getInputStream().read()).isEqualTo('\n');
        nanos = System.nanoTime() - last;
        last = System.nanoTime();
      }
      TimeUnit.NANOSECONDS.sleep((long) (1.1 * nanos * random.nextDouble()));
      child.destroyForcibly();
      killed += child.waitFor() == KILLED ? 1 : 0;
      List<Reading> readings = opened(folder).readings();
      assertThat(readings.size() % 5).as("seed %d, kill %d", seed, i).isZero();
      assertThat(readings.size()).isGreaterThanOrEqualTo(before + 5 * done);
      before = readings.size();
    }
    assertThat(killed).isEqualTo(200);
  }

  @Test
  void processesThatImportTheSameFileAtOnceKeepItOnce() throws Exception {
    StudyFolder folder = folder(root);
    List<Process> children = new ArrayList<>();
    for (int i : IntStream.range(0, 6).toArray()) {
      children.add(start(root, "R" + i % 3, 0, FailingOperations.Moment.BEFORE));
    }
    for (Process child : children) {
      assertThat(child.waitFor()).isZero();
    }
    assertThat(opened(folder).readings()).hasSize(15);
    try (Stream<Path> captures = Files.list(root.resolve("captures"))) {
      assertThat(captures).hasSize(3);
    }
  }
}
