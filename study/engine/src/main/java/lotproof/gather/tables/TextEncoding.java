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

  /** Bytes that are no character of windows-1252, and the control characters of texts. */
  private static final String UNDEFINED = "\u0081\u008D\u008F\u0090\u009D";

  private static final String WHITE = "\t\n\f\r";
  private static final int LOOK_AHEAD = 4096;

  /** Part of pairs of bytes that have a zero in UTF-16, at least. */
  private static final double LEAST_ZEROS = 0.9;

  static Result<TextEncoding> of(ReceivedFile file, Optional<String> wanted) {
    String head = file.firstBytes(4);
    boolean marked = head.startsWith("efbbbf");
    if (wanted.isPresent()) {
      return told(file, wanted.get(), marked ? 3 : 0);
    } else if (marked) {
      return utf8(file, 3, "UTF-8 with a byte order mark");
    } else if (head.startsWith("fffe")) {
      return known(StandardCharsets.UTF_16LE, 2, "UTF-16");
    } else if (head.startsWith("feff")) {
      return known(StandardCharsets.UTF_16BE, 2, "UTF-16");
    }
    Optional<Charset> wide = utf16WithoutMark(file.content());
    if (wide.isPresent()) {
      return known(wide.get(), 0, "UTF-16 without a byte order mark");
    }
    OptionalInt broken = CsvText.notUtf8(file.content());
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

  private static Result<TextEncoding> told(ReceivedFile file, String name, int mark) {
    try {
      Charset charset = Charset.forName(name);
      return charset.equals(StandardCharsets.UTF_8)
          ? utf8(file, mark, "UTF-8")
          : known(charset, 0, charset.name() + ", as told");
    } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
      return unknown(file, 0, "\"" + name + "\" is no code page that is known here");
    }
  }

  /** Latin text in UTF-16 has a zero in every other byte, and no other text has one. */
  private static Optional<Charset> utf16WithoutMark(ByteBuffer bytes) {
    int pairs = Math.min(bytes.remaining(), LOOK_AHEAD) / 2;
    int zerosFirst = 0;
    int zerosSecond = 0;
    for (int i = 0; i < pairs; i++) {
      zerosFirst += bytes.get(2 * i) == 0 ? 1 : 0;
      zerosSecond += bytes.get(2 * i + 1) == 0 ? 1 : 0;
    }
    if (Math.min(zerosFirst, zerosSecond) > 0
        || Math.max(zerosFirst, zerosSecond) <= LEAST_ZEROS * pairs) {
      return Optional.empty();
    }
    return Optional.of(zerosFirst == 0 ? StandardCharsets.UTF_16LE : StandardCharsets.UTF_16BE);
  }

  private static Result<TextEncoding> latin(ReceivedFile file, int line) {
    ByteBuffer bytes = file.content();
    boolean same = true;
    while (bytes.hasRemaining()) {
      char b = (char) (bytes.get() & 0xFF);
      if (UNDEFINED.indexOf(b) >= 0 || (b < ' ' && WHITE.indexOf(b) < 0)) {
        return unknown(
            file,
            line,
            "the text is neither UTF-8 nor windows-1252; save the file as CSV in UTF-8, or name its"
                + " code page with --encoding");
      }
      same &= b < 0x80 || SAME_EVERYWHERE.indexOf(b) >= 0;
    }
    return Result.of(new TextEncoding(WINDOWS_1252, 0, "windows-1252", !same));
  }

  private static Result<TextEncoding> unknown(ReceivedFile file, int line, String why) {
    return Result.refused(DataIssue.error(Code.FILE_UNREADABLE, file.name(), line, "", "", why));
  }
}
