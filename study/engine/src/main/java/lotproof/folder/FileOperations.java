package lotproof.folder;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;

/** The steps by which a folder changes. A seam: tests let each of them fail in turn. */
interface FileOperations {

  /** Makes a directory if there is none. */
  void createDirectory(Path directory) throws IOException;

  /** What a file is to hold, written piece by piece. */
  interface Content {
    /** Writes all of it. */
    void writeTo(OutputStream out) throws IOException;
  }

  /** Writes a new file and waits until its bytes are on the disk. */
  void writeAndSync(Path file, Content content) throws IOException;

  /** Gives a file another name in the same directory, replacing what had it, in one step. */
  void moveAtomically(Path from, Path to) throws IOException;

  /** Waits until the names in a directory are on the disk. */
  void syncDirectory(Path directory) throws IOException;

  /** Removes a file if it is there. */
  void deleteIfExists(Path file) throws IOException;
}
