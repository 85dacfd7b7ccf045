package lotproof.gather.tables;

import java.nio.ByteBuffer;
import java.nio.charset.Charset;
import java.nio.charset.IllegalCharsetNameException;
import java.nio.charset.StandardCharsets;
import java.nio.charset.UnsupportedCharsetException;
import java.util.Optional;
import java.util.OptionalInt;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * How the bytes of a text file are characters.
 *
 * @param charset the code page
 * @param skip bytes of a byte order mark
 * @param words for people
 * @param doubtful whether other code pages would give other letters
 */
record TextEncoding(Charset charset, int skip, String words, boolean doubtful) {
  private static final Charset WINDOWS_1252 = Charset.forName("windows-1252");

  /**
   * Bytes of windows-1252 that mean the same in all Latin code pages: no-break space, ° ± ² µ ·.
   */
  private static final String SAME_EVERYWHERE = "\u00A0\u00B0\u00B1\u00B2\u00B5\u00B7";

  private static final int LOOK_AHEAD = 4096;

  static Result<TextEncoding> of(ReceivedFile file, Optional<String> wanted) {
    ByteBuffer bytes = file.content();
    if (wanted.isPresent()) {
      return wanted(wanted.get(), file);
    }
    String head = file.firstBytes(4);
    if (head.startsWith("efbbbf")) {
      return utf8(file, 3, "UTF-8 with a byte order mark");
    } else if (head.startsWith("fffe")) {
      return known(StandardCharsets.UTF_16LE, 2, "UTF-16");
    } else if (head.startsWith("feff")) {
      return known(StandardCharsets.UTF_16BE, 2, "UTF-16");
    }
    Optional<Charset> wide = utf16WithoutMark(bytes);
    if (wide.isPresent()) {
      return known(wide.get(), 0, "UTF-16 without a byte order mark");
    }
    OptionalInt broken = CsvText.notUtf8(bytes);
    return broken.isEmpty()
        ? known(StandardCharsets.UTF_8, 0, "UTF-8")
        : latin(file, broken.getAsInt());
  }

  private static Result<TextEncoding> known(Charset charset, int skip, String words) {
    return Result.of(new TextEncoding(charset, skip, words, false));
  }

  private static Result<TextEncoding> utf8(ReceivedFile file, int skip, String words) {
    OptionalInt broken = CsvText.notUtf8(file.content().position(skip).slice());
    return broken.isEmpty()
        ? known(StandardCharsets.UTF_8, skip, words)
        : unknown(file, broken.getAsInt(), "a byte is not " + words);
  }

  private static Result<TextEncoding> wanted(String name, ReceivedFile file) {
    ByteBuffer bytes = file.content();
    try {
      Charset charset = Charset.forName(name);
      if (charset.equals(StandardCharsets.UTF_8)) {
        boolean marked =
            bytes.remaining() > 2 && bytes.get(0) == (byte) 0xEF && bytes.get(1) == (byte) 0xBB;
        return utf8(file, marked ? 3 : 0, "UTF-8");
      }
      return known(charset, 0, charset.name() + ", as told");
    } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
      return unknown(file, 0, "\"" + name + "\" is no code page that is known here");
    }
  }

  /** Latin text in UTF-16 has a zero in every other byte, and no other text has one. */
  private static Optional<Charset> utf16WithoutMark(ByteBuffer bytes) {
    int length = Math.min(bytes.remaining(), LOOK_AHEAD) / 2 * 2;
    int zerosFirst = 0;
    int zerosSecond = 0;
    for (int i = 0; i < length; i += 2) {
      zerosFirst += bytes.get(i) == 0 ? 1 : 0;
      zerosSecond += bytes.get(i + 1) == 0 ? 1 : 0;
    }
    if (length > 0 && zerosFirst == 0 && zerosSecond > 0.45 * length) {
      return Optional.of(StandardCharsets.UTF_16LE);
    } else if (length > 0 && zerosSecond == 0 && zerosFirst > 0.45 * length) {
      return Optional.of(StandardCharsets.UTF_16BE);
    }
    return Optional.empty();
  }

  private static Result<TextEncoding> latin(ReceivedFile file, int line) {
    ByteBuffer bytes = file.content();
    boolean same = true;
    for (int i = 0; i < bytes.limit(); i++) {
      int b = bytes.get(i) & 0xFF;
      boolean undefined = b == 0x81 || b == 0x8D || b == 0x8F || b == 0x90 || b == 0x9D;
      boolean control = b < 0x20 && b != '\t' && b != '\n' && b != '\r' && b != '\f';
      if (undefined || control) {
        return unknown(
            file,
            line,
            "the text is neither UTF-8 nor windows-1252; save the file as CSV in UTF-8, or name its"
                + " code page with --encoding");
      }
      same &= b < 0x80 || SAME_EVERYWHERE.indexOf((char) b) >= 0;
    }
    return Result.of(new TextEncoding(WINDOWS_1252, 0, "windows-1252", !same));
  }

  private static Result<TextEncoding> unknown(ReceivedFile file, int line, String why) {
    return Result.refused(DataIssue.error(Code.FILE_UNREADABLE, file.name(), line, "", "", why));
  }
}
