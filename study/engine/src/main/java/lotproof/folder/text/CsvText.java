package lotproof.folder.text;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.Reader;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;

/** Separated text: bytes to lines of fields and back. Refuses what it would have to guess. */
public final class CsvText {

  /** Stands on a line of its own behind the text: an open quote would swallow it. */
  private static final String END_MARK = "\uE000";

  private static final int CHUNK = 1 << 16;

  private CsvText() {}

  /**
   * One record of the text.
   *
   * @param number line on which it starts, counted from 1
   * @param fields its fields as written
   */
  public record Line(int number, List<String> fields) {
    public Line {
      fields = List.copyOf(fields);
    }

    /** Whether the line is empty. */
    public boolean isEmpty() {
      return fields.size() == 1 && fields.get(0).isBlank();
    }
  }

  /** Where text cannot be read on, and why. */
  public record Broken(int line, String why) {}

  /** Takes one line at a time. */
  public interface LineTaker {
    /** Takes a line; says whether more are wanted. */
    boolean take(Line line);
  }

  /**
   * Splits text into lines and fields and hands over one at a time, so that the text need not fit
   * into memory twice.
   *
   * @return where and why it cannot be read on; nothing when all of it, or as much as was wanted,
   *     was read
   */
  public static Optional<Broken> forEach(Reader text, char separator, LineTaker taker) {
    int next = 1;
    @Nullable Line held = null;
    try (CsvReader<CsvRecord> reader =
        CsvReader.builder()
            .fieldSeparator(separator)
            .skipEmptyLines(false)
            .allowExtraFields(true)
            .allowMissingFields(true)
            .ofCsvRecord(new EndMarked(text))) {
      for (CsvRecord csv : reader) {
        if (held != null && !taker.take(held)) {
          return Optional.empty();
        }
        held = new Line((int) csv.getStartingLineNumber(), csv.getFields());
        next = nextLine(held);
      }
    } catch (CsvParseException e) {
      return Optional.of(new Broken(next, reason(e)));
    } catch (IOException e) {
      throw new UncheckedIOException("reading failed", e);
    }
    if (held == null || !held.fields().equals(List.of(END_MARK))) {
      int line = held == null ? 1 : held.number();
      return Optional.of(new Broken(line, "a quotation mark is opened and never closed"));
    }
    return Optional.empty();
  }

  /** Text with a line end, if it has none, and the end mark behind it. */
  private static final class EndMarked extends Reader {
    private final Reader text;
    private char last = '\n';
    private String tail = "";
    private int tailAt;
    private boolean ended;

    private EndMarked(Reader text) {
      this.text = text;
    }

    @Override
    public int read(char[] buffer, int from, int length) throws IOException {
      if (!ended) {
        int count = text.read(buffer, from, length);
        if (count > 0) {
          last = buffer[from + count - 1];
        }
        if (count >= 0) {
          return count;
        }
        ended = true;
        tail = last == '\n' ? END_MARK : "\n" + END_MARK;
      }
      if (tailAt == tail.length()) {
        return -1;
      }
      buffer[from] = tail.charAt(tailAt);
      tailAt++;
      return 1;
    }

    @Override
    public void close() throws IOException {
      text.close();
    }
  }

  /** Line of the first byte that is not UTF-8; nothing when all are. */
  public static OptionalInt notUtf8(ByteBuffer bytes) {
    CharsetDecoder decoder =
        StandardCharsets.UTF_8
            .newDecoder()
            .onMalformedInput(CodingErrorAction.REPORT)
            .onUnmappableCharacter(CodingErrorAction.REPORT);
    ByteBuffer in = bytes.duplicate();
    int line = 1;
    while (in.hasRemaining() && in.get(in.position()) >= 0) {
      line += in.get() == '\n' ? 1 : 0;
    }
    CharBuffer out = CharBuffer.allocate(CHUNK);
    while (true) {
      CoderResult result = decoder.decode(in, out, true);
      out.flip();
      for (int i = 0; i < out.limit(); i++) {
        line += out.get(i) == '\n' ? 1 : 0;
      }
      out.clear();
      if (result.isError()) {
        return OptionalInt.of(line);
      }
      if (result.isUnderflow()) {
        return OptionalInt.empty();
      }
    }
  }

  /** Length of a byte order mark of UTF-8 at the start; 0 when there is none. */
  public static int markLength(byte[] content) {
    boolean marked =
        content.length >= 3
            && content[0] == (byte) 0xEF
            && content[1] == (byte) 0xBB
            && content[2] == (byte) 0xBF;
    return marked ? 3 : 0;
  }

  /** Fields as one line of comma-separated text, quoted where needed, ended by a line feed. */
  public static String line(List<String> fields) {
    StringWriter text = new StringWriter();
    try (CsvWriter writer = CsvWriter.builder().lineDelimiter(LineDelimiter.LF).build(text)) {
      writer.writeRecord(fields);
    } catch (IOException e) {
      throw new UncheckedIOException("writing to memory cannot fail", e);
    }
    return text.toString();
  }

  private static int nextLine(Line last) {
    int next = last.number() + 1;
    for (String field : last.fields()) {
      for (int at = field.indexOf('\n'); at >= 0; at = field.indexOf('\n', at + 1)) {
        next++;
      }
    }
    return next;
  }

  private static String reason(CsvParseException e) {
    Throwable cause = e.getCause() == null ? e : e.getCause();
    String why = String.valueOf(cause.getMessage());
    return why.contains("maximum buffer size")
        ? "a field is longer than 16 million characters; it may be no text, or a quotation mark is"
            + " opened and never closed"
        : why;
  }
}
