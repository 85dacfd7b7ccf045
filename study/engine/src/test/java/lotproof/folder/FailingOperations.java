package lotproof.folder;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import lotproof.folder.StudyFiles.FileOperations;

/**
 * The steps on a real disk, of which one fails: before it starts, half way, or after it is done.
 */
final class FailingOperations extends FileOperations {
  private final FileOperations real = new FileOperations();
  private final int failingStep;
  private final Moment moment;
  private final Runnable failure;
  private int step;

  enum Moment {
    BEFORE,
    HALF_WAY,
    AFTER
  }

  private interface Step {
    void run() throws IOException;
  }

  FailingOperations(int failingStep, Moment moment) {
    this(failingStep, moment, () -> {});
  }

  /**
   * @param failure what happens at the failing step before the exception, such as the end of the
   *     process
   */
  FailingOperations(int failingStep, Moment moment, Runnable failure) {
    this.failingStep = failingStep;
    this.moment = moment;
    this.failure = failure;
  }

  int stepsTaken() {
    return step;
  }

  private void take(Step whole, Step half) throws IOException {
    step++;
    if (step != failingStep) {
      whole.run();
      return;
    }
    switch (moment) {
      case BEFORE -> {}
      case HALF_WAY -> half.run();
      case AFTER -> whole.run();
    }
    failure.run();
    throw new IOException("simulated failure at step " + step);
  }

  @Override
  void createDirectory(Path directory) throws IOException {
    take(() -> real.createDirectory(directory), () -> {});
  }

  @Override
  void writeAndSync(Path file, byte[] content) throws IOException {
    take(
        () -> real.writeAndSync(file, content),
        () -> real.writeAndSync(file, Arrays.copyOf(content, content.length / 2)));
  }

  @Override
  void moveAtomically(Path from, Path to) throws IOException {
    take(() -> real.moveAtomically(from, to), () -> {});
  }

  @Override
  void syncDirectory(Path directory) throws IOException {
    take(() -> real.syncDirectory(directory), () -> {});
  }

  @Override
  void deleteIfExists(Path file) throws IOException {
    take(() -> real.deleteIfExists(file), () -> {});
  }
}
