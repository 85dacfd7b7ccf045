package lotproof.folder;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;

/**
 * The steps on a real disk, of which one fails: before it starts, half way, or after it is done.
 */
final class FailingOperations implements FileOperations {
  private final FileOperations real = new DiskOperations();
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
  public void createDirectory(Path directory) throws IOException {
    take(() -> real.createDirectory(directory), () -> {});
  }

  @Override
  public void writeAndSync(Path file, Content content) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    content.writeTo(bytes);
    take(
        () -> real.writeAndSync(file, content),
        () -> real.writeAndSync(file, out -> out.write(bytes.toByteArray(), 0, bytes.size() / 2)));
  }

  @Override
  public void moveAtomically(Path from, Path to) throws IOException {
    take(() -> real.moveAtomically(from, to), () -> {});
  }

  @Override
  public void syncDirectory(Path directory) throws IOException {
    take(() -> real.syncDirectory(directory), () -> {});
  }

  @Override
  public void deleteIfExists(Path file) throws IOException {
    take(() -> real.deleteIfExists(file), () -> {});
  }
}
