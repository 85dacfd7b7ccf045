package lotproof.folder;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** The steps on a real disk. */
final class DiskOperations implements FileOperations {
  private static final int BUFFER = 1 << 16;

  @Override
  public void createDirectory(Path directory) throws IOException {
    Files.createDirectories(directory);
  }

  @Override
  public void writeAndSync(Path file, Content content) throws IOException {
    try (FileChannel channel =
        FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
      OutputStream out = new BufferedOutputStream(Channels.newOutputStream(channel), BUFFER);
      content.writeTo(out);
      out.flush();
      channel.force(true);
    }
  }

  @Override
  public void moveAtomically(Path from, Path to) throws IOException {
    Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  @Override
  public void syncDirectory(Path directory) throws IOException {
    if (directory.getFileSystem().supportedFileAttributeViews().contains("posix")) {
      // Windows cannot open a directory and commits names together with the move.
      try (FileChannel channel = FileChannel.open(directory, StandardOpenOption.READ)) {
        channel.force(true);
      }
    }
  }

  @Override
  public void deleteIfExists(Path file) throws IOException {
    Files.deleteIfExists(file);
  }
}
