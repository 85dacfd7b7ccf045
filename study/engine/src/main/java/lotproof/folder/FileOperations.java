package lotproof.folder;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** The steps by which a folder changes. A seam: tests let each of them fail in turn. */
class FileOperations {

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
