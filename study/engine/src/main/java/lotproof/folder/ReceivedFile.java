package lotproof.folder;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.Charset;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Locale;
import java.util.regex.Pattern;

/** A file as it was received: read once, so that what is parsed is what is hashed and kept. */
public final class ReceivedFile implements StudyRecord.Original {
  private static final Pattern HASH = Pattern.compile("[0-9a-f]{64}");
  private static final int EXTENSION_LIMIT = 8;

  private final String name;
  private final byte[] content;
  private final String sha256;

  private ReceivedFile(String name, byte[] content) {
    if (name.isBlank()) {
      throw new IllegalArgumentException("file name must not be blank");
    }
    this.name = name;
    this.content = content;
    this.sha256 = hash(content);
  }

  /** The file with this name and content, which nobody changes from now on. */
  public static ReceivedFile of(String name, byte[] content) {
    return new ReceivedFile(name, content);
  }

  /** Its bytes, for the folder alone. */
  byte[] bytes() {
    return content;
  }

  /** Its name, without folders. */
  public String name() {
    return name;
  }

  /** Hash of its bytes, lower-case hexadecimal. */
  @Override
  public String sha256() {
    return sha256;
  }

  /** Its bytes, read only. */
  public ByteBuffer content() {
    return ByteBuffer.wrap(content).asReadOnlyBuffer();
  }

  /** A new stream over its bytes. */
  public InputStream stream() {
    return new ByteArrayInputStream(content);
  }

  /** Its bytes as characters, without the first ones. */
  public String text(Charset charset, int skip) {
    return new String(content, skip, content.length - skip, charset);
  }

  /** How many bytes it has. */
  public int size() {
    return content.length;
  }

  /** Its first bytes, at most this many, in lower-case hexadecimal. */
  public String firstBytes(int most) {
    return HexFormat.of().formatHex(content, 0, Math.min(most, content.length));
  }

  /** The name under which captures/ keeps it. */
  public String captureName() {
    return captureName(name, sha256);
  }

  /** The name under which captures/ keeps a file of this name and hash. */
  static String captureName(String fileName, String sha256) {
    String end = fileName.substring(fileName.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT);
    boolean safe =
        end.length() < fileName.length()
            && end.length() <= EXTENSION_LIMIT
            && end.matches("[a-z0-9]+");
    return sha256 + "." + (safe ? end : "bin");
  }

  @Override
  public String toString() {
    return name + " (" + content.length + " bytes)";
  }

  @Override
  public ReceivedFile read() {
    return this;
  }

  /** SHA-256 over the parts, one after the other, in lower-case hexadecimal. */
  public static String hash(byte[]... parts) {
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

  /** Whether a text can be such a hash. */
  static boolean isHash(String text) {
    return HASH.matcher(text).matches();
  }
}
