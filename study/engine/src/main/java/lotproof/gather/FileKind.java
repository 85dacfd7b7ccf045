package lotproof.gather;

import java.util.List;
import java.util.Optional;
import lotproof.folder.ReceivedFile;

/** Kinds of file that people send by mistake, known by their first bytes. */
final class FileKind {
  private static final int BINARY_LOOK_AHEAD = 8192;

  /** First bytes of a kind; sources: the kinds' own specifications. */
  private record Signature(String kind, int... bytes) {}

  private static final List<Signature> SIGNATURES =
      List.of(
          new Signature("a PDF document", 0x25, 0x50, 0x44, 0x46),
          new Signature("a zip archive that is no readable workbook", 0x50, 0x4B, 0x03, 0x04),
          new Signature("an empty zip archive", 0x50, 0x4B, 0x05, 0x06),
          new Signature(
              "an old .xls workbook or a workbook with a password",
              0xD0,
              0xCF,
              0x11,
              0xE0,
              0xA1,
              0xB1,
              0x1A,
              0xE1),
          new Signature("a gzip archive", 0x1F, 0x8B),
          new Signature("a PNG picture", 0x89, 0x50, 0x4E, 0x47),
          new Signature("a JPEG picture", 0xFF, 0xD8, 0xFF),
          new Signature("UTF-16 text", 0xFF, 0xFE),
          new Signature("UTF-16 text", 0xFE, 0xFF));

  private FileKind() {}

  /** What the file is, when it is certainly no text that could be a table. */
  static Optional<String> notText(ReceivedFile file) {
    Optional<String> known =
        SIGNATURES.stream()
            .filter(signature -> file.hasBytesAt(0, signature.bytes()))
            .map(Signature::kind)
            .findFirst();
    return known.isPresent() || !hasZeroByte(file) ? known : Optional.of("a binary file");
  }

  private static boolean hasZeroByte(ReceivedFile file) {
    for (int i = 0; i < Math.min(file.size(), BINARY_LOOK_AHEAD); i++) {
      if (file.hasBytesAt(i, 0)) {
        return true;
      }
    }
    return false;
  }
}
