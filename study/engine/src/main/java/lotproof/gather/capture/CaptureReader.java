package lotproof.gather.capture;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PushbackInputStream;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Reads a capture as a stream: its first lines say how it is laid out, and then each sample goes to
 * a sink. Memory does not grow with the file.
 *
 * <p>Bytes are read as single-byte text: samples are digits, and what a serial line garbles must
 * not keep the rest from being read.
 */
final class CaptureReader {
  private static final int HEAD_BYTES = 64 << 10;
  private static final int LONGEST_LINE = 32 << 10;
  private static final double MOST_CONTROL = 0.02;

  /** Stand in for marks that no capture has. */
  private static final char NO_SEPARATOR = '\u0003';

  private static final char NO_QUOTE = '\u0004';

  private CaptureReader() {}

  /**
   * A capture of which all samples went to the sink.
   *
   * @param layout how it was understood
   * @param samples how many
   * @param clockWraps how often the clock wrapped
   * @param skipped lines that hold no sample
   */
  public record Read(
      CaptureLayout layout, long samples, long clockWraps, List<SkippedLines.Skipped> skipped) {
    public Read {
      skipped = List.copyOf(skipped);
    }
  }

  /**
   * Reads a file.
   *
   * @param name stands in issues
   * @param sinks gives the sink once the layout is known
   */
  public static Result<Read> read(
      String name, Path path, CaptureFormat format, Function<CaptureLayout, SampleSink> sinks) {
    if (!Files.isRegularFile(path)) {
      return refused(Code.FILE_MISSING, name, 0, "there is no such file");
    }
    try (InputStream in = Files.newInputStream(path)) {
      return read(name, in, format, sinks);
    } catch (IOException e) {
      return refused(Code.FILE_UNREADABLE, name, 0, "the file cannot be read");
    }
  }

  /** Reads a stream; {@code name} stands in issues. */
  public static Result<Read> read(
      String name,
      InputStream stream,
      CaptureFormat format,
      Function<CaptureLayout, SampleSink> sinks)
      throws IOException {
    InputStream buffered = stream.markSupported() ? stream : new BufferedInputStream(stream);
    if (format.grouped().orElse(false)) {
      buffered = new WithoutGroups(buffered);
    }
    PushbackInputStream in = new PushbackInputStream(buffered, HEAD_BYTES);
    byte[] head = in.readNBytes(HEAD_BYTES);
    if (head.length == 0) {
      return refused(Code.FILE_EMPTY, name, 0, "the file is empty");
    }
    Optional<String> strange = notText(head);
    if (strange.isPresent()) {
      return refused(Code.FILE_TYPE, name, 0, "no capture: it is " + strange.get());
    }
    int mark = byteOrderMark(head);
    String text = new String(head, mark, head.length - mark, StandardCharsets.ISO_8859_1);
    boolean cut = head.length == HEAD_BYTES;
    Result<LayoutFinder.Found> layout = LayoutFinder.find(name, format, text, cut);
    if (layout.isRefused()) {
      return Result.refused(layout.issues());
    }
    in.unread(head, mark, head.length - mark);
    return stream(name, in, format, layout.get(), text.indexOf('"') >= 0, sinks);
  }

  private static Result<Read> stream(
      String name,
      InputStream in,
      CaptureFormat format,
      LayoutFinder.Found found,
      boolean quotes,
      Function<CaptureLayout, SampleSink> sinks)
      throws IOException {
    CaptureLayout layout = found.layout();
    EndWatch watch = new EndWatch(new InputStreamReader(in, StandardCharsets.ISO_8859_1));
    LineSamples lines =
        new LineSamples(name, format, layout, found.firstDataLine(), sinks.apply(layout));
    boolean columns = layout.separator().isPresent();
    try (CsvReader<LineSamples.Outcome> reader =
        CsvReader.builder()
            .fieldSeparator(columns ? layout.separator().orElseThrow() : NO_SEPARATOR)
            .quoteCharacter(columns && quotes ? '"' : NO_QUOTE)
            .skipEmptyLines(true)
            .allowExtraFields(true)
            .allowMissingFields(true)
            .allowExtraCharsAfterClosingQuote(true)
            .maxBufferSize(LONGEST_LINE)
            .build(lines, watch)) {
      for (LineSamples.Outcome line : reader) {
        if (line == LineSamples.Outcome.SWALLOWED) {
          String message = "a quotation mark is opened here and closed lines later, or never";
          return refused(Code.FILE_UNREADABLE, name, lines.lastLine(), message);
        }
      }
    } catch (CsvParseException e) {
      String message =
          "a line is longer than " + LONGEST_LINE + " characters; this is no capture of samples";
      return refused(Code.FILE_UNREADABLE, name, lines.lastLine() + 1, message);
    }
    return lines.finish(watch.endedWithinLine());
  }

  private static int byteOrderMark(byte[] head) {
    boolean marked =
        head.length >= 3
            && (head[0] & 0xff) == 0xef
            && (head[1] & 0xff) == 0xbb
            && (head[2] & 0xff) == 0xbf;
    return marked ? 3 : 0;
  }

  /** What the file is, when it is no text. */
  private static Optional<String> notText(byte[] head) {
    int first = head[0] & 0xff;
    int second = head.length > 1 ? head[1] & 0xff : 0;
    if ((first == 0xff && second == 0xfe) || (first == 0xfe && second == 0xff)) {
      return Optional.of("UTF-16 text; save it as UTF-8 or plain text");
    }
    if (first == 'P' && second == 'K') {
      return Optional.of("a zip archive or a workbook; save the samples as CSV");
    }
    if (first == 0x1f && second == 0x8b) {
      return Optional.of("a gzip archive; unpack it first");
    }
    int control = 0;
    for (byte b : head) {
      control += b >= 0 && b < 32 && b != '\n' && b != '\r' && b != '\t' ? 1 : 0;
    }
    return control > MOST_CONTROL * head.length + 2
        ? Optional.of("a binary file")
        : Optional.empty();
  }

  private static Result<Read> refused(Code code, String file, long line, String message) {
    int at = (int) Math.min(line, Integer.MAX_VALUE);
    return Result.refused(DataIssue.error(code, file, at, "", "", message));
  }

  /** Remembers the last character: a file that does not end with a line end may be cut off. */
  private static final class EndWatch extends Reader {
    private final Reader in;
    private char last = '\n';

    EndWatch(Reader in) {
      this.in = in;
    }

    boolean endedWithinLine() {
      return last != '\n' && last != '\r';
    }

    @Override
    public int read(char[] buffer, int offset, int length) throws IOException {
      int count = in.read(buffer, offset, length);
      if (count > 0) {
        last = buffer[offset + count - 1];
      }
      return count;
    }

    @Override
    public void close() throws IOException {
      in.close();
    }
  }
}
