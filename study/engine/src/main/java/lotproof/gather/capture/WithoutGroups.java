package lotproof.gather.capture;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PushbackInputStream;

/** A capture without the points and commas that stand between thousands: 1.772.041 is 1772041. */
final class WithoutGroups extends FilterInputStream {
  private static final int GROUP = 3;

  private final PushbackInputStream ahead;
  private boolean afterDigit;

  WithoutGroups(InputStream in) {
    this(new PushbackInputStream(in, GROUP + 1));
  }

  private WithoutGroups(PushbackInputStream in) {
    super(in);
    this.ahead = in;
  }

  @Override
  public int read() throws IOException {
    int next = ahead.read();
    if (afterDigit && (next == '.' || next == ',') && groupFollows()) {
      next = ahead.read();
    }
    afterDigit = isDigit(next);
    return next;
  }

  @Override
  public int read(byte[] into, int offset, int length) throws IOException {
    int count = 0;
    while (count < length) {
      int next = read();
      if (next < 0) {
        break;
      }
      into[offset + count] = (byte) next;
      count++;
    }
    return count == 0 && length > 0 ? -1 : count;
  }

  @Override
  public boolean markSupported() {
    return false;
  }

  /** Whether three digits follow and then none. */
  private boolean groupFollows() throws IOException {
    byte[] bytes = ahead.readNBytes(GROUP + 1);
    ahead.unread(bytes);
    for (int i = 0; i < GROUP; i++) {
      if (i >= bytes.length || !isDigit(bytes[i])) {
        return false;
      }
    }
    return bytes.length == GROUP || !isDigit(bytes[GROUP]);
  }

  private static boolean isDigit(int character) {
    return character >= '0' && character <= '9';
  }
}
