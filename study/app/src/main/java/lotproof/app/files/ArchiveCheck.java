package lotproof.app.files;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.ZipInputStream;
import lotproof.folder.ReceivedFile;

/**
 * Holds the parts of a workbook's archive against their checksums. The library that reads workbooks
 * does not: a flipped bit can make another number of one, without any other sign.
 */
final class ArchiveCheck {
  private static final byte[] END = {'P', 'K', 5, 6};
  private static final int END_LENGTH = 22;
  private static final int ENTRIES_AT = 10;

  /** Stands for a number of entries that is written elsewhere. */
  private static final int MANY = 0xffff;

  private ArchiveCheck() {}

  /** Reads all parts of an archive whose size is known to be bearable. */
  static void mustBeWhole(ReceivedFile file) throws IOException {
    int entries = 0;
    try (ZipInputStream archive = new ZipInputStream(file.stream())) {
      while (archive.getNextEntry() != null) {
        archive.transferTo(java.io.OutputStream.nullOutputStream());
        entries++;
      }
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(String.valueOf(e.getMessage()));
    }
    int told = entriesTold(file);
    if (told != entries && told != MANY) {
      throw damaged("it holds " + entries + " parts and tells of " + told);
    }
  }

  private static IOException damaged(String how) {
    return new IOException(
        "its archive is damaged: " + how + "; fetch the file again, or save it anew");
  }

  /** The number of entries in the record that ends an archive; 0 when there is no such record. */
  private static int entriesTold(ReceivedFile file) {
    ByteBuffer bytes = file.content().duplicate().order(ByteOrder.LITTLE_ENDIAN);
    for (int at = bytes.limit() - END_LENGTH; at >= 0; at--) {
      boolean found = true;
      for (int i = 0; found && i < END.length; i++) {
        found = bytes.get(at + i) == END[i];
      }
      if (found) {
        return Short.toUnsignedInt(bytes.getShort(at + ENTRIES_AT));
      }
    }
    return 0;
  }
}
