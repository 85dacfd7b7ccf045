package lotproof.folder;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.regex.Pattern;

/** SHA-256 in lower-case hexadecimal. */
final class Sha256 {
  private static final Pattern HEXADECIMAL = Pattern.compile("[0-9a-f]{64}");

  private Sha256() {}

  /** Hash over the parts, one after the other. */
  static String of(byte[]... parts) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      for (byte[] part : parts) {
        digest.update(part);
      }
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform must offer SHA-256", e);
    }
  }

  static boolean isHash(String text) {
    return HEXADECIMAL.matcher(text).matches();
  }
}
