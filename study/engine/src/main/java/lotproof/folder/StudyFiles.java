package lotproof.folder;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.DirectoryStream;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import lotproof.folder.definition.StudyFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * The files of a study folder. Each is replaced whole: after a stop at any instant the old file or
 * the new one is there. One writer at a time: those of this process are kept out by a lock in
 * memory, those of other processes by a lock on a file, which the system lifts when a process dies.
 * The file itself stays, since removing it would let two writers lock two files.
 *
 * @param patience how long a writer waits for another one
 */
record StudyFiles(Path root, FileOperations operations, Duration patience) {
  static final String LOCK = ".lotproof-lock";

  private static final long LARGEST_YAML = 1_000_000;
  private static final String UNFINISHED = ".unfinished";

  /** Where files are written one by one. */
  private static final List<String> DIRECTORIES =
      List.of(
          "",
          StudyFolder.CAPTURES,
          StudyFolder.MAPPINGS,
          BenchFolder.NAME,
          BenchFolder.NAME + "/drafts");

  private static final long MILLISECONDS_BETWEEN_TRIES = 20;
  private static final Map<Path, ReentrantLock> IN_PROCESS = new ConcurrentHashMap<>();

  /** Another writer is at work for longer than our patience. */
  private static final class BusyException extends IOException {
    private static final long serialVersionUID = 1L;

    private BusyException() {
      super("another import or decision is being written; try again when it is done");
    }
  }

  Path at(String place) {
    return root.resolve(place);
  }

  /**
   * The bytes of a file, if it is there. A pipe or a device, which may never end, is none, and YAML
   * has a bound: its parser's time is not linear in the length of a text.
   */
  Optional<byte[]> bytes(String place) throws IOException {
    Path file = at(place);
    if (!Files.exists(file)) {
      return Optional.empty();
    } else if (!Files.isRegularFile(file)) {
      throw new FileSystemException(place, null, "it is a folder, a pipe or a device, and no file");
    } else if (place.endsWith(".yaml") && Files.size(file) > LARGEST_YAML) {
      throw new FileSystemException(place, null, "it has more than 1 MB; is it the right file?");
    }
    return Optional.of(Files.readAllBytes(file));
  }

  /** Writes beside the file, then gives the result its name. */
  void put(String place, byte[] content) throws IOException {
    Path file = at(place);
    Path directory = parent(file);
    Path unfinished = directory.resolve("." + file.getFileName() + UNFINISHED);
    operations.writeAndSync(unfinished, content);
    operations.moveAtomically(unfinished, file);
    operations.syncDirectory(directory);
  }

  /** Makes a directory that is there after a power loss too. */
  void makeDirectory(String place) throws IOException {
    operations.createDirectory(at(place));
    operations.syncDirectory(parent(at(place)));
  }

  private static Path parent(Path file) {
    Path directory = file.toAbsolutePath().getParent();
    if (directory == null) {
      throw new IllegalArgumentException("not in a directory: " + file);
    }
    return directory;
  }

  /** Keeps an original under the hash of its bytes. */
  void keep(ReceivedFile file) throws IOException {
    makeDirectory(StudyFolder.CAPTURES);
    put(StudyFolder.CAPTURES + "/" + file.captureName(), file.bytes());
  }

  /** Does something while other writers are kept out. */
  <T> T alone(StudyFolder.Work<T> work) throws IOException {
    long deadline = System.nanoTime() + patience.toNanos();
    ReentrantLock ours = IN_PROCESS.computeIfAbsent(root.toRealPath(), it -> new ReentrantLock());
    try {
      if (!ours.tryLock(patience.toNanos(), TimeUnit.NANOSECONDS)) {
        throw new BusyException();
      }
      try (FileChannel channel =
          FileChannel.open(at(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
        while (channel.tryLock() == null) {
          if (System.nanoTime() >= deadline) {
            throw new BusyException();
          }
          Thread.sleep(MILLISECONDS_BETWEEN_TRIES);
        }
        clearUnfinished();
        return work.run();
      } finally {
        ours.unlock();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BusyException();
    }
  }

  /** Removes what writers left that were killed or found the disk full. */
  private void clearUnfinished() throws IOException {
    for (String name : DIRECTORIES) {
      Path directory = at(name);
      if (Files.isDirectory(directory)) {
        try (DirectoryStream<Path> left = Files.newDirectoryStream(directory, ".*" + UNFINISHED)) {
          for (Path file : left) {
            if (Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
              operations.deleteIfExists(file);
            }
          }
        }
      }
    }
  }

  /**
   * The same; what goes wrong is a reason.
   *
   * @param file what is written, for people
   */
  <T> Result<T> write(String file, StudyFolder.Work<Result<T>> work) {
    try {
      return alone(work);
    } catch (BusyException e) {
      return Result.refused(Code.FOLDER_BUSY, LOCK, String.valueOf(e.getMessage()));
    } catch (NoSuchFileException e) {
      return missing();
    } catch (IOException e) {
      return notWritten(file, e);
    }
  }

  /** The same in a folder that need not exist yet. */
  <T> Result<T> writeInNew(String file, StudyFolder.Work<Result<T>> work) {
    try {
      makeDirectory("");
    } catch (IOException e) {
      return notWritten(file, e);
    }
    return write(file, work);
  }

  /** Writes a file of a directory within the folder; says why not, or nothing when written. */
  List<DataIssue> putIn(String directory, String name, byte[] content) {
    String place = directory + "/" + name;
    return writeInNew(
            place,
            () -> {
              makeDirectory(directory);
              put(place, content);
              return Result.of(place);
            })
        .issues();
  }

  <T> Result<T> missing() {
    String message = "there is no %s in %s; it defines the study".formatted(StudyFile.NAME, root);
    return Result.refused(Code.FILE_MISSING, StudyFile.NAME, message);
  }

  static <T> Result<T> unreadable(IOException e) {
    return e instanceof FileSystemException of && of.getReason() != null
        ? Result.refused(Code.FILE_UNREADABLE, of.getFile(), of.getReason())
        : Result.refused(Code.FILE_UNREADABLE, describe(e), "the file cannot be read");
  }

  private static <T> Result<T> notWritten(String file, IOException e) {
    String message = "writing failed (%s); the folder is whole, and the step can be repeated";
    return Result.refused(Code.WRITE_FAILED, file, message.formatted(describe(e)));
  }

  private static String describe(IOException e) {
    return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
  }

  /** The steps by which a folder changes. A seam: tests let each of them fail in turn. */
  static class FileOperations {

    /** Makes a directory if there is none. */
    void createDirectory(Path directory) throws IOException {
      Files.createDirectories(directory);
    }

    /** Writes a new file and waits until its bytes are on the disk. */
    void writeAndSync(Path file, byte[] content) throws IOException {
      try (FileChannel channel =
          FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
        ByteBuffer left = ByteBuffer.wrap(content);
        while (left.hasRemaining()) {
          channel.write(left);
        }
        channel.force(true);
      }
    }

    /** Gives a file another name in the same directory, replacing what had it, in one step. */
    void moveAtomically(Path from, Path to) throws IOException {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    }

    /** Waits until the names in a directory are on the disk. */
    void syncDirectory(Path directory) throws IOException {
      if (directory.getFileSystem().supportedFileAttributeViews().contains("posix")) {
        // Windows cannot open a directory and commits names together with the move.
        try (FileChannel channel = FileChannel.open(directory, StandardOpenOption.READ)) {
          channel.force(true);
        }
      }
    }

    /** Removes a file if it is there. */
    void deleteIfExists(Path file) throws IOException {
      Files.deleteIfExists(file);
    }
  }
}
