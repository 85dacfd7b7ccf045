package lotproof.folder.text;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.FilterReader;
import java.io.IOException;
import java.io.Reader;
import java.io.StringReader;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Predicate;
import java.util.stream.IntStream;
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

  /**
   * Splits text into lines and fields and hands over one at a time, so that the text need not fit
   * into memory twice.
   *
   * @return where and why it cannot be read on; nothing when all of it, or as much as was wanted,
   *     was read
   */
  public static Optional<Broken> forEach(Reader text, char separator, Predicate<Line> wantsMore) {
    Line held = new Line(1, List.of());
    try (CsvReader<CsvRecord> reader =
        CsvReader.builder()
            .fieldSeparator(separator)
            .skipEmptyLines(false)
            .allowExtraFields(true)
            .allowMissingFields(true)
            .ofCsvRecord(new EndMarked(text))) {
      for (CsvRecord csv : reader) {
        if (!held.fields().isEmpty() && !wantsMore.test(held)) {
          return Optional.empty();
        }
        held = new Line((int) csv.getStartingLineNumber(), csv.getFields());
      }
    } catch (CsvParseException e) {
      int next =
          held.number()
              + (held.fields().isEmpty() ? 0 : 1)
              + (int) String.join("", held.fields()).chars().filter(c -> c == '\n').count();
      return Optional.of(new Broken(next, reason(e)));
    } catch (IOException e) {
      throw new UncheckedIOException("reading failed", e);
    }
    return held.fields().equals(List.of(END_MARK))
        ? Optional.empty()
        : Optional.of(new Broken(held.number(), "a quotation mark is opened and never closed"));
  }

  /** Text with a line end, if it has none, and the end mark behind it. */
  private static final class EndMarked extends FilterReader {
    private char last = '\n';
    private @Nullable Reader end;

    private EndMarked(Reader text) {
      super(text);
    }

    @Override
    public int read(char[] buffer, int from, int length) throws IOException {
      if (end != null) {
        return end.read(buffer, from, length);
      }
      int count = super.read(buffer, from, length);
      if (count >= 0) {
        last = count > 0 ? buffer[from + count - 1] : last;
        return count;
      }
      end = new StringReader(last == '\n' ? END_MARK : "\n" + END_MARK);
      return end.read(buffer, from, length);
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
    CharBuffer out = CharBuffer.allocate(CHUNK);
    CoderResult result = CoderResult.OVERFLOW;
    while (result.isOverflow()) {
      result = decoder.decode(in, out.clear(), true);
    }
    if (!result.isError()) {
      return OptionalInt.empty();
    }
    IntStream before = IntStream.range(bytes.position(), in.position());
    return OptionalInt.of(1 + (int) before.filter(i -> bytes.get(i) == '\n').count());
  }

  /** Length of a byte order mark of UTF-8 at the start; 0 when there is none. */
  public static int markLength(byte[] content) {
    byte[] mark = {(byte) 0xEF, (byte) 0xBB, (byte) 0xBF};
    return Arrays.mismatch(content, mark) == mark.length || Arrays.equals(content, mark)
        ? mark.length
        : 0;
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

  private static String reason(CsvParseException e) {
    Throwable cause = e.getCause() == null ? e : e.getCause();
    String why = String.valueOf(cause.getMessage());
    return why.contains("maximum buffer size")
        ? "a field is longer than 16 million characters; it may be no text, or a quotation mark is"
            + " opened and never closed"
        : why;
  }
}
