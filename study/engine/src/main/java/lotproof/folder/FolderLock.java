package lotproof.folder;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Keeps other writers out of a study folder: those of this process by a lock in memory, those of
 * other processes by a lock on a file, which the system lifts when a process dies. The file itself
 * stays, since removing it would let two writers lock two files.
 */
final class FolderLock implements AutoCloseable {
  static final String NAME = ".lotproof-lock";
  static final String BUSY =
      "another import or decision is being written; try again when it is done";

  private static final Duration BETWEEN_TRIES = Duration.ofMillis(20);
  private static final Map<Path, ReentrantLock> IN_PROCESS = new ConcurrentHashMap<>();

  private final ReentrantLock inProcess;
  private final FileChannel channel;

  /** Another writer is at work for longer than our patience. */
  static final class BusyException extends IOException {
    private static final long serialVersionUID = 1L;

    BusyException() {
      super(BUSY);
    }
  }

  private FolderLock(ReentrantLock inProcess, FileChannel channel) {
    this.inProcess = inProcess;
    this.channel = channel;
  }

  /**
   * The lock.
   *
   * @throws BusyException when another writer holds it for longer than our patience
   */
  static FolderLock acquire(Path root, Duration patience) throws IOException {
    long deadline = System.nanoTime() + patience.toNanos();
    ReentrantLock inProcess =
        IN_PROCESS.computeIfAbsent(root.toRealPath(), path -> new ReentrantLock());
    try {
      if (!inProcess.tryLock(patience.toNanos(), TimeUnit.NANOSECONDS)) {
        throw new BusyException();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BusyException();
    }
    Optional<FileChannel> locked = Optional.empty();
    try {
      locked = lockFile(root.resolve(NAME), deadline);
      return new FolderLock(inProcess, locked.orElseThrow(BusyException::new));
    } finally {
      if (locked.isEmpty()) {
        inProcess.unlock();
      }
    }
  }

  private static Optional<FileChannel> lockFile(Path file, long deadline) throws IOException {
    FileChannel channel =
        FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
    boolean locked = false;
    try {
      while (!locked && System.nanoTime() < deadline) {
        FileLock lock = channel.tryLock();
        locked = lock != null;
        if (!locked) {
          Thread.sleep(BETWEEN_TRIES.toMillis());
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      if (!locked) {
        channel.close();
      }
    }
    return locked ? Optional.of(channel) : Optional.empty();
  }

  @Override
  public void close() throws IOException {
    try {
      channel.close();
    } finally {
      inProcess.unlock();
    }
  }
}
