package lotproof.gather.capture;

import static java.nio.charset.StandardCharsets.ISO_8859_1;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Optional;
import lotproof.gather.tables.RowNumbers;

/**
 * The lines of single-byte text, one after the other. A line ends with a line feed, a carriage
 * return, or both.
 */
final class CaptureLines {
  /** No line of samples is longer. */
  static final int LONGEST = 32 << 10;

  private static final int HEAD = 64 << 10;
  private static final String UTF8_MARK = "\u00ef\u00bb\u00bf";

  private final InputStream in;
  private final byte[] bytes = new byte[HEAD];
  private final String head;
  private int end;
  private int from;

  /** Reads the head of a stream. */
  CaptureLines(InputStream in) throws IOException {
    this.in = in;
    this.end = in.readNBytes(bytes, 0, HEAD);
    String text = new String(bytes, 0, end, ISO_8859_1);
    this.from = text.startsWith(UTF8_MARK) ? UTF8_MARK.length() : 0;
    this.head = text.substring(from);
  }

  /** The lines of a stream, or those of a log that hold one of its captures. */
  static CaptureLines of(InputStream in, Optional<String> wanted) throws IOException {
    if (wanted.isEmpty()) {
      return new CaptureLines(in);
    }
    int[] ends = RowNumbers.range(wanted.get());
    InputStream all = new BufferedInputStream(in);
    ByteArrayOutputStream part = new ByteArrayOutputStream();
    int number = 1;
    int before = 0;
    for (int next = all.read(); next >= 0; next = all.read()) {
      number += before == '\n' || (before == '\r' && next != '\n') ? 1 : 0;
      if (number > ends[1]) {
        break;
      } else if (number >= ends[0]) {
        part.write(next);
      }
      before = next;
    }
    return new CaptureLines(new ByteArrayInputStream(part.toByteArray()));
  }

  /** Takes lines, one after the other. */
  interface Taker {
    /**
     * Takes a line, or the start of one that is longer than {@link #LONGEST}.
     *
     * @param ended whether it has a line end
     * @return whether more are wanted
     */
    boolean take(String line, boolean ended);
  }

  /** The number of a line as issues hold it. */
  static int number(long line) {
    return (int) Math.min(line, Integer.MAX_VALUE);
  }

  /** The head, without a byte order mark. */
  String head() {
    return head;
  }

  /** Whether more may follow the head. */
  boolean isHeadCut() {
    return from + head.length() == HEAD;
  }

  /** Hands over the lines for as long as more are wanted. */
  void forEach(Taker taker) throws IOException {
    boolean afterReturn = false;
    boolean more = true;
    while (more) {
      int to = lineEnd();
      boolean ended = to < end;
      boolean feedOfReturn = ended && to == from && afterReturn && bytes[to] == '\n';
      afterReturn = ended && bytes[to] == '\r';
      if (!feedOfReturn) {
        String line = new String(bytes, from, to - from, ISO_8859_1);
        more = (ended || to > from) && taker.take(line, ended);
      }
      from = ended ? to + 1 : to;
    }
  }

  private int lineEnd() throws IOException {
    int at = from;
    while (true) {
      while (at < end && bytes[at] != '\n' && bytes[at] != '\r') {
        at++;
      }
      if (at < end || at - from > LONGEST) {
        return at;
      }
      at -= from;
      System.arraycopy(bytes, from, bytes, 0, at);
      from = 0;
      int more = in.read(bytes, at, HEAD - at);
      end = at + Math.max(0, more);
      if (more < 0) {
        return at;
      }
    }
  }
}
