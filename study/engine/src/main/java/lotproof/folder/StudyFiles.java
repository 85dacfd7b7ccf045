package lotproof.folder;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import lotproof.folder.definition.StudyFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * The files of a study folder. Each is replaced whole: after a stop at any instant the old file or
 * the new one is there. One writer at a time.
 */
final class StudyFiles {
  private static final String UNFINISHED = ".unfinished";

  private final Path root;
  private final FileOperations operations;
  private final Duration patience;

  StudyFiles(Path root, FileOperations operations, Duration patience) {
    this.root = root;
    this.operations = operations;
    this.patience = patience;
  }

  Path root() {
    return root;
  }

  Path at(String place) {
    return root.resolve(place);
  }

  /** The bytes of a file, if it is there. */
  Optional<byte[]> bytes(String place) throws IOException {
    try {
      return Optional.of(Files.readAllBytes(at(place)));
    } catch (NoSuchFileException e) {
      return Optional.empty();
    }
  }

  /** The bytes of a file; none when it is not there. */
  byte[] bytesOrNone(String place) throws IOException {
    return bytes(place).orElseGet(() -> new byte[0]);
  }

  /** Writes beside the file, then gives the result its name. */
  void put(String place, byte[] content) throws IOException {
    Path file = at(place);
    Path directory = parent(file);
    Path unfinished = directory.resolve("." + file.getFileName() + UNFINISHED);
    operations.deleteIfExists(unfinished);
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
  <T> T alone(DraftFolder.Work<T> work) throws IOException {
    FolderLock lock = FolderLock.acquire(root, patience);
    try {
      return work.run();
    } finally {
      lock.close();
    }
  }

  /**
   * The same; what goes wrong is a reason.
   *
   * @param file what is written, for people
   */
  <T> Result<T> write(String file, DraftFolder.Work<Result<T>> work) {
    try {
      return alone(work);
    } catch (FolderLock.BusyException e) {
      return Result.refused(issue(Code.FOLDER_BUSY, FolderLock.NAME, FolderLock.BUSY));
    } catch (NoSuchFileException e) {
      return Result.refused(missing());
    } catch (IOException e) {
      return Result.refused(notWritten(file, e));
    }
  }

  /** The same in a folder that need not exist yet. */
  <T> Result<T> writeInNew(String file, DraftFolder.Work<Result<T>> work) {
    try {
      makeDirectory("");
    } catch (IOException e) {
      return Result.refused(notWritten(file, e));
    }
    return write(file, work);
  }

  DataIssue missing() {
    return issue(
        Code.FILE_MISSING,
        StudyFile.NAME,
        "there is no %s in %s; it defines the study".formatted(StudyFile.NAME, root));
  }

  static DataIssue unreadable(IOException e) {
    return issue(Code.FILE_UNREADABLE, describe(e), "the file cannot be read");
  }

  static DataIssue notWritten(String file, IOException e) {
    return issue(
        Code.WRITE_FAILED,
        file,
        "writing failed (%s); the folder is whole, and the step can be repeated"
            .formatted(describe(e)));
  }

  private static String describe(IOException e) {
    return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
  }

  /** A fault of a whole file. */
  static DataIssue issue(Code code, String file, String message) {
    return DataIssue.error(code, file, 0, "", "", message);
  }
}
