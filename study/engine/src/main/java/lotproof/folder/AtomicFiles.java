package lotproof.folder;

import java.io.IOException;
import java.nio.file.Path;

/** Replaces whole files: after a stop at any instant the old file or the new one is there. */
final class AtomicFiles {
  private static final String UNFINISHED = ".unfinished";

  private final FileOperations operations;

  AtomicFiles(FileOperations operations) {
    this.operations = operations;
  }

  /** Writes beside the file, then gives the result its name. Only one writer at a time. */
  void put(Path file, byte[] content) throws IOException {
    put(file, out -> out.write(content));
  }

  /** Writes beside the file, then gives the result its name. Only one writer at a time. */
  void put(Path file, FileOperations.Content content) throws IOException {
    Path directory = file.toAbsolutePath().getParent();
    if (directory == null) {
      throw new IllegalArgumentException("not a file in a directory: " + file);
    }
    Path unfinished = directory.resolve("." + file.getFileName() + UNFINISHED);
    operations.deleteIfExists(unfinished);
    operations.writeAndSync(unfinished, content);
    operations.moveAtomically(unfinished, file);
    operations.syncDirectory(directory);
  }

  /** Makes a directory that is there after a power loss too. */
  void makeDirectory(Path directory) throws IOException {
    operations.createDirectory(directory);
    Path parent = directory.toAbsolutePath().getParent();
    if (parent != null) {
      operations.syncDirectory(parent);
    }
  }
}
