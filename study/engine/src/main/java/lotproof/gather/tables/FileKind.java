package lotproof.gather.tables;

import java.util.List;
import java.util.Optional;
import lotproof.folder.ReceivedFile;

/** Kinds of file that people send by mistake, known by their first bytes. */
final class FileKind {
  private static final int BINARY_LOOK_AHEAD = 8192;

  /** A kind and its first bytes in hexadecimal; sources: the kinds' own specifications. */
  private record Signature(String kind, String bytes) {}

  private static final List<Signature> SIGNATURES =
      List.of(
          new Signature("a PDF document", "25504446"),
          new Signature("a zip archive that is no .xlsx workbook", "504b0304"),
          new Signature("an empty zip archive", "504b0506"),
          new Signature("an old .xls workbook or a workbook with a password", "d0cf11e0a1b11ae1"),
          new Signature("a gzip archive", "1f8b"),
          new Signature("a PNG picture", "89504e47"),
          new Signature("a JPEG picture", "ffd8ff"));

  private FileKind() {}

  /** What the file is, when it is certainly no text that could be a table. */
  static Optional<String> notText(ReceivedFile file) {
    String head = file.firstBytes(BINARY_LOOK_AHEAD);
    Optional<String> known =
        SIGNATURES.stream()
            .filter(signature -> head.startsWith(signature.bytes()))
            .map(Signature::kind)
            .findFirst();
    return known.isPresent() || isUtf16(head) || !hasZeroByte(head)
        ? known
        : Optional.of("a binary file");
  }

  /** By its mark, or because every other byte of the first ones is a zero. */
  private static boolean isUtf16(String head) {
    return head.startsWith("fffe")
        || head.startsWith("feff")
        || head.matches("(?:(?!00)..00){4}.*")
        || head.matches("(?:00(?!00)..){4}.*");
  }

  private static boolean hasZeroByte(String hexadecimal) {
    for (int i = 0; i < hexadecimal.length(); i += 2) {
      if (hexadecimal.startsWith("00", i)) {
        return true;
      }
    }
    return false;
  }
}
