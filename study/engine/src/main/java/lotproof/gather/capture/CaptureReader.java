package lotproof.gather.capture;

import static java.nio.charset.StandardCharsets.ISO_8859_1;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import lotproof.gather.capture.SkippedLines.Example;
import lotproof.gather.capture.SkippedLines.Kind;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Reads a capture as a stream: its first lines say how it is laid out, and then each sample goes to
 * a sink. Memory does not grow with the file.
 *
 * <p>Bytes are read as single-byte text: samples are digits, and what a serial line garbles must
 * not keep the rest from being read. Each sample is held back until the next line begins: the first
 * and the last may be cut off.
 */
final class CaptureReader {
  private static final double MOST_CONTROL = 0.02;
  private static final int EXAMPLES = 5;
  private static final int EXAMPLE_LENGTH = 40;
  private static final int TERMINAL_TIME_LENGTH = 64;

  /** A mark between thousands: 1.772.041 is 1772041. */
  private static final Pattern GROUP_MARK = Pattern.compile("(?<=[0-9])[.,](?=[0-9]{3}(?![0-9]))");

  private static final Pattern LOOKS_HEXADECIMAL =
      Pattern.compile("(?=.*[0-9])(?=.*[a-fA-F])[0-9a-fA-F]{4,12}");

  private final String file;
  private final CaptureFormat format;
  private final CaptureLayout layout;
  private final Sink sink;
  private final SampleText numbers;
  private final SampleText clockNumbers;
  private final RunningClock clock;
  private final boolean grouped;
  private final boolean quotes;
  private final byte[] prefix;
  private final byte[] suffix;
  private final int separator;
  private final int timeIndex;
  private final TerminalTime terminal = new TerminalTime();
  private final Map<Kind, Long> skipped = new EnumMap<>(Kind.class);
  private final Map<Kind, List<Example>> examples = new EnumMap<>(Kind.class);

  private String refusal = "";
  private long line;
  private boolean haveValue;
  private boolean haveTime;
  private int valueFrom;
  private int valueTo;

  private boolean held;
  private boolean heldIsUnfinished;
  private long heldLine;
  private double heldSeconds;
  private double heldValue;
  private long samples;
  private long hexLine;
  private int firstLength = -1;

  /** Takes the samples of a capture in the order of the file. */
  @FunctionalInterface
  interface Sink {
    /**
     * Takes one sample.
     *
     * @param line line of the file, counted from 1
     * @param seconds time since the clock's own zero, unwrapped; 0 without a clock
     * @param value the sample
     */
    void sample(long line, double seconds, double value);
  }

  /**
   * A capture of which all samples went to the sink.
   *
   * @param layout how it was understood
   * @param samples how many
   * @param clockWraps how often the clock wrapped
   * @param skipped lines that hold no sample
   */
  record Read(CaptureLayout layout, long samples, long clockWraps, List<SkippedLines> skipped) {
    Read {
      skipped = List.copyOf(skipped);
    }
  }

  private CaptureReader(
      String file, CaptureFormat format, CaptureLayout layout, boolean quotes, Sink sink) {
    this.file = file;
    this.format = format;
    this.layout = layout;
    this.grouped = format.grouped().orElse(false);
    this.quotes = quotes;
    this.sink = sink;
    CaptureLayout.Digits digits = layout.digits();
    this.prefix = digits.prefix().getBytes(ISO_8859_1);
    this.suffix = digits.suffix().getBytes(ISO_8859_1);
    this.separator = layout.separator().orElse('\0');
    this.timeIndex = layout.timeIndex().orElse(-1);
    this.numbers =
        new SampleText(digits, !format.hexadecimal().orElse(true), format.bits().orElse(0));
    this.clockNumbers = new SampleText(digits.ofClock(), true, 0);
    this.clock = new RunningClock(file, layout, format);
  }

  /** Reads a file; {@code name} stands in issues. */
  static Result<Read> read(String name, Path path, CaptureFormat format, Sink sink) {
    if (!Files.isRegularFile(path)) {
      return Result.refused(issue(Code.FILE_MISSING, name, 0, "there is no such file"));
    }
    try (InputStream in = Files.newInputStream(path)) {
      return read(name, in, format, sink);
    } catch (IOException e) {
      return Result.refused(issue(Code.FILE_UNREADABLE, name, 0, "the file cannot be read"));
    }
  }

  /** Reads a stream; {@code name} stands in issues. */
  static Result<Read> read(String name, InputStream stream, CaptureFormat format, Sink sink)
      throws IOException {
    CaptureLines lines = new CaptureLines(stream);
    byte[] head = lines.head();
    if (head.length == 0) {
      return Result.refused(issue(Code.FILE_EMPTY, name, 0, "the file is empty"));
    }
    Optional<String> strange = notText(head);
    if (strange.isPresent()) {
      return Result.refused(issue(Code.FILE_TYPE, name, 0, "no capture: it is " + strange.get()));
    }
    String text = new String(head, ISO_8859_1);
    if (format.grouped().orElse(false)) {
      text = GROUP_MARK.matcher(text).replaceAll("");
    }
    Result<CaptureLayout> layout = LayoutFinder.find(name, format, text, lines.isHeadCut());
    return layout.isRefused()
        ? Result.refused(layout.issues())
        : new CaptureReader(name, format, layout.get(), text.indexOf('"') >= 0, sink).read(lines);
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

  private Result<Read> read(CaptureLines lines) throws IOException {
    lines.forEach(this::takeLine);
    return refusal.isEmpty()
        ? finish()
        : Result.refused(issue(Code.FILE_UNREADABLE, file, line, refusal));
  }

  private boolean takeLine(byte[] bytes, int start, int end, boolean ended) {
    line++;
    byte[] text = bytes;
    int from = start;
    int to = end;
    if (grouped) {
      String marked = new String(text, from, to - from, ISO_8859_1);
      text = GROUP_MARK.matcher(marked).replaceAll("").getBytes(ISO_8859_1);
      from = 0;
      to = text.length;
    }
    if (end - start > CaptureLines.LONGEST) {
      refusal =
          "a line is longer than %s characters; this is no capture of samples"
              .formatted(CaptureLines.LONGEST);
    } else if (quotes && line >= layout.firstLine() && isQuoteOpen(text, from, to)) {
      refusal = "a quotation mark is opened here and closed lines later, or never";
    } else {
      take(text, from, to);
      heldIsUnfinished = held && heldLine == line && !ended;
    }
    return refusal.isEmpty();
  }

  private static boolean isQuoteOpen(byte[] text, int from, int to) {
    boolean open = false;
    for (int at = from; at < to; at++) {
      open ^= text[at] == '"';
    }
    return open;
  }

  private void take(byte[] text, int start, int end) {
    int from = start;
    while (from < end && (text[from] == ' ' || text[from] == '\t')) {
      from++;
    }
    if (from == end) {
      return;
    }
    from = start;
    haveTime = false;
    haveValue = false;
    valueFrom = end;
    valueTo = end;
    if (layout.terminalTime()) {
      haveTime =
          terminal.find(
              new String(text, from, Math.min(end - from, TERMINAL_TIME_LENGTH), ISO_8859_1));
      from += haveTime ? terminal.end() : 0;
    }
    int columns = layout.separator().isPresent() ? columns(text, from, end) : 1;
    if (layout.separator().isEmpty()) {
      labelled(text, from, end);
    }
    boolean whole = columns == layout.columns() && (!layout.hasClock() || haveTime);
    if (!haveValue || !whole || line < layout.firstLine()) {
      skip(text, start, end, columns);
      return;
    }
    int length = valueTo - valueFrom;
    if (firstLength < 0) {
      firstLength = length;
    } else if (samples == 0 && firstLength < length && layout.separator().isEmpty()) {
      // a terminal that connects within a line sees the end of a number only
      skipped(Kind.TRUNCATED, heldLine, "first number, shorter than the next");
      held = false;
      firstLength = Integer.MAX_VALUE;
    }
    release();
    held = true;
    heldLine = line;
    heldValue = numbers.value();
    heldSeconds = layout.hasClock() ? clock.seconds(line, time()) : 0;
  }

  private double time() {
    return layout.terminalTime() ? terminal.secondsOfDay() : clockNumbers.value();
  }

  /** Reads the columns of a line and says how many there are. */
  private int columns(byte[] text, int from, int end) {
    int column = 0;
    int begin = from;
    for (int at = from; at <= end; at++) {
      if (at == end || text[at] == separator) {
        if (column == layout.valueIndex()) {
          value(text, begin, at);
        } else if (column == timeIndex) {
          haveTime = number(clockNumbers, text, begin, at) && clock.possible(clockNumbers.value());
        }
        column++;
        begin = at + 1;
      }
    }
    return column;
  }

  /** Reads the number between a label and a unit; the label must be there. */
  private void labelled(byte[] text, int from, int end) {
    int begin = from + prefix.length;
    if (begin > end || !Arrays.equals(text, from, begin, prefix, 0, prefix.length)) {
      return;
    }
    int to = end;
    while (to > begin && text[to - 1] == ' ') {
      to--;
    }
    int unit = Math.max(begin, to - suffix.length);
    value(text, begin, Arrays.equals(text, unit, to, suffix, 0, suffix.length) ? unit : to);
  }

  private void value(byte[] text, int from, int to) {
    haveValue = number(numbers, text, from, to);
    valueFrom = from;
    valueTo = to;
  }

  private boolean number(SampleText kind, byte[] text, int from, int to) {
    boolean quoted = quotes && to - from > 1 && text[from] == '"' && text[to - 1] == '"';
    return quoted ? kind.read(text, from + 1, to - 1) : kind.read(text, from, to);
  }

  private void release() {
    if (held) {
      sink.sample(heldLine, heldSeconds, heldValue);
      samples++;
      held = false;
    }
  }

  private void skip(byte[] text, int from, int end, int columns) {
    if (line == layout.headerLine()) {
      return;
    }
    boolean decimalFound = format.hexadecimal().isEmpty() && !layout.digits().hexadecimal();
    if (decimalFound && hexLine == 0 && line >= layout.firstLine() && !haveValue) {
      String value = new String(text, valueFrom, valueTo - valueFrom, ISO_8859_1).strip();
      hexLine = LOOKS_HEXADECIMAL.matcher(value).matches() ? line : 0;
    }
    Kind kind = Kind.GARBAGE;
    if (text[from] == '#' && prefix.length == 0) {
      kind = Kind.COMMENT;
    } else if (samples == 0 && !held) {
      kind = Kind.BANNER;
    } else if (columns < layout.columns()) {
      kind = Kind.TRUNCATED;
    }
    int length = Math.min(end - from, EXAMPLE_LENGTH);
    skipped(kind, line, new String(text, from, length, ISO_8859_1));
  }

  private void skipped(Kind kind, long at, String start) {
    skipped.merge(kind, 1L, Long::sum);
    List<Example> kept = examples.computeIfAbsent(kind, k -> new ArrayList<>());
    if (kept.size() < EXAMPLES) {
      kept.add(new Example(at, start.replaceAll("[^\\x20-\\x7e]", "?")));
    }
  }

  private long count(Kind kind) {
    return skipped.getOrDefault(kind, 0L);
  }

  /** The end of the file: what came of it. */
  private Result<Read> finish() {
    if (heldIsUnfinished) {
      skipped(Kind.UNFINISHED, heldLine, "last number, without the end of its line");
      held = false;
    }
    release();
    List<DataIssue> issues = new ArrayList<>();
    if (hexLine > 0) {
      String message =
          "a number looks hexadecimal and those before looked decimal; give --radix hex or --radix"
              + " decimal";
      issues.add(issue(Code.CAPTURE_UNCLEAR, file, hexLine, message));
    }
    if (samples == 0) {
      String why =
          count(Kind.UNFINISHED) > 0 ? "; the only one has no line end and may be cut short" : "";
      issues.add(issue(Code.FILE_EMPTY, file, 0, "no sample was found" + why));
    }
    long strange = count(Kind.GARBAGE) + count(Kind.TRUNCATED);
    if (strange > samples) {
      String message = "%s lines are no samples and only %s are; this is no capture";
      issues.add(issue(Code.FILE_UNREADABLE, file, 0, message.formatted(strange, samples)));
    }
    issues.addAll(clock.issues());
    List<SkippedLines> all = new ArrayList<>();
    examples.forEach((kind, first) -> all.add(new SkippedLines(kind, count(kind), first)));
    return Result.of(new Read(layout, samples, clock.wraps(), all), issues);
  }

  private static DataIssue issue(Code code, String file, long line, String message) {
    int at = (int) Math.min(line, Integer.MAX_VALUE);
    return DataIssue.error(code, file, at, "", "", message);
  }
}
