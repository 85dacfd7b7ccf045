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
  private int to;
  private int next;
  private long number;
  private boolean ended;
  private boolean afterReturn;

  /** Reads the head of a stream. */
  CaptureLines(InputStream in) throws IOException {
    this.in = in;
    this.end = in.readNBytes(bytes, 0, HEAD);
    boolean utf8 =
        end >= 3 && bytes[0] == (byte) 0xef && bytes[1] == (byte) 0xbb && bytes[2] == (byte) 0xbf;
    this.next = utf8 ? 3 : 0;
  }

  /** The head, before the first line is taken. */
  byte[] head() {
    return Arrays.copyOfRange(bytes, next, end);
  }

  /** Whether more may follow the head. */
  boolean isHeadCut() {
    return end == HEAD;
  }

  /** Goes to the next line, or to the start of one that is too long; false when there is none. */
  boolean next() throws IOException {
    boolean feedOfReturn;
    do {
      from = next;
      to = lineEnd();
      ended = to < end;
      next = ended ? to + 1 : to;
      feedOfReturn = ended && to == from && afterReturn && bytes[to] == '\n';
      afterReturn = ended && bytes[to] == '\r';
    } while (feedOfReturn);
    boolean there = ended || to > from;
    number += there ? 1 : 0;
    return there;
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

  /** What holds the line, among others, until the next one is taken. */
  byte[] bytes() {
    return bytes;
  }

  /** Where the line begins. */
  int from() {
    return from;
  }

  /** Behind its last byte. */
  int to() {
    return to;
  }

  /** Its number, from 1. */
  long number() {
    return number;
  }

  /** Whether it has a line end, and is not what a file ends with. */
  boolean isEnded() {
    return ended;
  }
}
