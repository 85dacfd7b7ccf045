package lotproof.gather.capture;

import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;

/**
 * The lines of single-byte text, one after the other in one buffer. A line ends with a line feed, a
 * carriage return, or both.
 */
final class CaptureLines {
  /** No line of samples is longer. */
  static final int LONGEST = 32 << 10;

  private static final int HEAD = 64 << 10;

  private final InputStream in;
  private final byte[] bytes = new byte[HEAD];
  private int end;
  private int from;

  /** Reads the head of a stream. */
  CaptureLines(InputStream in) throws IOException {
    this.in = in;
    this.end = in.readNBytes(bytes, 0, HEAD);
    boolean utf8 =
        end >= 3 && bytes[0] == (byte) 0xef && bytes[1] == (byte) 0xbb && bytes[2] == (byte) 0xbf;
    this.from = utf8 ? 3 : 0;
  }

  /** Takes lines, one after the other. */
  interface Taker {
    /**
     * Takes a line, or the start of one that is longer than {@link #LONGEST}.
     *
     * @param bytes holds the line, among others, until the next one
     * @param from where it begins
     * @param to behind its last byte
     * @param ended whether it has a line end
     * @return whether more are wanted
     */
    boolean take(byte[] bytes, int from, int to, boolean ended);
  }

  /** The head, before lines are handed over. */
  byte[] head() {
    return Arrays.copyOfRange(bytes, from, end);
  }

  /** Whether more may follow the head. */
  boolean isHeadCut() {
    return end == HEAD;
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
        more = (ended || to > from) && taker.take(bytes, from, to, ended);
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
      end = at;
      int more = in.read(bytes, end, HEAD - end);
      if (more < 0) {
        return at;
      }
      end += more;
    }
  }
}
