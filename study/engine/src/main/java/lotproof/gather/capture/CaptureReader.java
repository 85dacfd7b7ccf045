package lotproof.gather.capture;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import lotproof.gather.capture.CaptureLayout.TerminalTime;
import lotproof.gather.capture.SkippedLines.Example;
import lotproof.gather.capture.SkippedLines.Kind;
import lotproof.gather.tables.Setting;
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

  /** A mark between thousands: 1.772.041 is 1772041. */
  private static final Pattern GROUP_MARK = Pattern.compile("(?<=[0-9])[.,](?=[0-9]{3}(?![0-9]))");

  private static final Pattern LOOKS_HEXADECIMAL =
      Pattern.compile("(?=.*[0-9])(?=.*[a-fA-F])[0-9a-fA-F]{4,12}");

  private final String file;
  private final CaptureFormat format;
  private final CaptureLayout layout;
  private final Sink sink;
  private final CaptureLayout.Digits clockDigits;
  private final RunningClock clock;
  private final boolean grouped;
  private final boolean quotes;

  /** What separates columns; a line is one column where nothing does. */
  private final int separator;

  /** Where the columns of the current line begin, as many as there should be and one more. */
  private final int[] begins;

  private final Map<Kind, Long> skipped = new EnumMap<>(Kind.class);
  private final Map<Kind, List<Example>> examples = new EnumMap<>(Kind.class);

  private String refusal = "";
  private long line;
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
    this.grouped = format.isGrouped();
    this.quotes = quotes;
    this.separator = layout.separator().map(mark -> (int) mark).orElse(-1);
    this.begins = new int[layout.columns() + 1];
    this.sink = sink;
    this.clockDigits = layout.digits().ofClock();
    this.clock = new RunningClock(file, layout, format);
    this.line = format.firstLine() - 1L;
  }

  /** Reads a file; {@code name} stands in issues. */
  static Result<Read> read(String name, Path path, CaptureFormat format, Sink sink) {
    if (!Files.isRegularFile(path)) {
      return Result.refused(Code.FILE_MISSING, name, "there is no such file");
    }
    try (InputStream in = Files.newInputStream(path)) {
      return read(name, in, format, sink);
    } catch (IOException e) {
      return Result.refused(Code.FILE_UNREADABLE, name, "the file cannot be read");
    }
  }

  /** Reads a stream; {@code name} stands in issues. */
  static Result<Read> read(String name, InputStream stream, CaptureFormat format, Sink sink)
      throws IOException {
    CaptureLines lines = CaptureLines.of(stream, format.told(Setting.LINES));
    if (lines.head().isEmpty()) {
      return Result.refused(Code.FILE_EMPTY, name, "the file is empty");
    }
    Optional<String> strange = notText(lines.head());
    if (strange.isPresent()) {
      return Result.refused(Code.FILE_TYPE, name, "no capture: it is " + strange.get());
    }
    String head =
        format.isGrouped() ? GROUP_MARK.matcher(lines.head()).replaceAll("") : lines.head();
    Result<CaptureLayout> layout = LayoutFinder.find(name, format, head, lines.isHeadCut());
    if (layout.isRefused()) {
      return Result.refused(layout.issues());
    }
    boolean quotes = head.indexOf('"') >= 0;
    CaptureReader reader = new CaptureReader(name, format, layout.get(), quotes, sink);
    lines.forEach(reader::take);
    return reader.finish();
  }

  /** What the file is, when it is no text. */
  private static Optional<String> notText(String head) {
    if (head.startsWith("\u00ff\u00fe") || head.startsWith("\u00fe\u00ff")) {
      return Optional.of("UTF-16 text; save it as UTF-8 or plain text");
    } else if (head.startsWith("PK")) {
      return Optional.of("a zip archive or a workbook; save the samples as CSV");
    } else if (head.startsWith("\u001f\u008b")) {
      return Optional.of("a gzip archive; unpack it first");
    }
    long control = head.chars().filter(c -> c < ' ' && c != '\n' && c != '\r' && c != '\t').count();
    return control > MOST_CONTROL * head.length() + 2
        ? Optional.of("a binary file")
        : Optional.empty();
  }

  private boolean take(String written, boolean ended) {
    line++;
    String text = grouped ? GROUP_MARK.matcher(written).replaceAll("") : written;
    if (written.length() > CaptureLines.LONGEST) {
      refusal =
          "a line is longer than %s characters; this is no capture of samples"
              .formatted(CaptureLines.LONGEST);
    } else if (quotes
        && line >= layout.firstLine()
        && text.chars().filter(c -> c == '"').count() % 2 > 0) {
      refusal = "a quotation mark is opened here and closed lines later, or never";
    } else {
      if (!text.isBlank()) {
        take(text);
      }
      heldIsUnfinished = held && heldLine == line && !ended;
    }
    return refusal.isEmpty();
  }

  private void take(String text) {
    Optional<TerminalTime> stamp = layout.terminalTime() ? TerminalTime.of(text) : Optional.empty();
    int start = stamp.map(TerminalTime::end).orElse(0);
    int columns = split(text, start);
    Field written =
        layout.separator().isPresent()
            ? column(text, layout.valueIndex(), columns)
            : labelled(text, start);
    OptionalDouble value = number(layout.digits(), text, written);
    OptionalDouble time = time(stamp, text, columns);
    boolean whole = columns == layout.columns() && time.isPresent();
    if (value.isEmpty() || !whole || line < layout.firstLine()) {
      String noNumber = value.isEmpty() ? text.substring(written.from, written.to).strip() : "";
      skip(text, columns, noNumber);
      return;
    }
    int length = written.to - written.from;
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
    heldValue = value.getAsDouble();
    heldSeconds = layout.hasClock() ? clock.seconds(line, time.getAsDouble()) : 0;
  }

  /** Where a field stands in a line; one that is not there is empty and behind its end. */
  private record Field(int from, int to) {}

  /** Notes where the columns of a line begin, and says how many there are. */
  private int split(String text, int start) {
    int columns = 1;
    begins[0] = start;
    for (int at = text.indexOf(separator, start); at >= 0; at = text.indexOf(separator, at + 1)) {
      if (columns < begins.length) {
        begins[columns] = at + 1;
      }
      columns++;
    }
    if (columns < begins.length) {
      begins[columns] = text.length() + 1;
    }
    return columns;
  }

  private Field column(String text, int index, int columns) {
    return index < columns
        ? new Field(begins[index], begins[index + 1] - 1)
        : new Field(text.length(), text.length());
  }

  /** The number between a label, which must be there, and a unit. */
  private Field labelled(String text, int start) {
    CaptureLayout.Digits digits = layout.digits();
    if (!text.startsWith(digits.prefix(), start)) {
      return new Field(text.length(), text.length());
    }
    int from = start + digits.prefix().length();
    String number = text.substring(from).stripTrailing();
    boolean unit = number.endsWith(digits.suffix());
    return new Field(from, from + number.length() - (unit ? digits.suffix().length() : 0));
  }

  private OptionalDouble number(CaptureLayout.Digits digits, String text, Field at) {
    boolean quoted =
        quotes
            && at.to - at.from > 1
            && text.charAt(at.from) == '"'
            && text.charAt(at.to - 1) == '"';
    return quoted ? digits.read(text, at.from + 1, at.to - 1) : digits.read(text, at.from, at.to);
  }

  /** The reading of the clock; 0 without a clock, and nothing where it cannot be. */
  private OptionalDouble time(Optional<TerminalTime> stamp, String text, int columns) {
    if (!layout.hasClock()) {
      return OptionalDouble.of(0);
    } else if (layout.terminalTime()) {
      return stamp.stream().mapToDouble(TerminalTime::secondsOfDay).findFirst();
    }
    OptionalDouble time =
        number(clockDigits, text, column(text, layout.timeIndex().orElseThrow(), columns));
    return time.isPresent() && clock.possible(time.getAsDouble()) ? time : OptionalDouble.empty();
  }

  private void release() {
    if (held) {
      sink.sample(heldLine, heldSeconds, heldValue);
      samples++;
      held = false;
    }
  }

  /** Counts a line that holds no sample, and the text that is no number in it. */
  private void skip(String text, int columns, String noNumber) {
    if (line == layout.headerLine()) {
      return;
    }
    boolean decimalFound = !format.isTold(Setting.RADIX) && !layout.digits().hexadecimal();
    if (decimalFound
        && hexLine == 0
        && line >= layout.firstLine()
        && LOOKS_HEXADECIMAL.matcher(noNumber).matches()) {
      hexLine = line;
    }
    Kind kind = Kind.GARBAGE;
    if (text.startsWith("#") && layout.digits().prefix().isEmpty()) {
      kind = Kind.COMMENT;
    } else if (samples == 0 && !held) {
      kind = Kind.BANNER;
    } else if (columns < layout.columns()) {
      kind = Kind.TRUNCATED;
    }
    skipped(kind, line, text.substring(0, Math.min(text.length(), EXAMPLE_LENGTH)));
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
    if (!refusal.isEmpty()) {
      return Result.refused(Code.FILE_UNREADABLE, file, CaptureLines.number(line), refusal);
    }
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
      issues.add(
          DataIssue.error(Code.CAPTURE_UNCLEAR, file, CaptureLines.number(hexLine), message));
    }
    if (samples == 0) {
      String why =
          count(Kind.UNFINISHED) > 0 ? "; the only one has no line end and may be cut short" : "";
      issues.add(DataIssue.error(Code.FILE_EMPTY, file, "no sample was found" + why));
    }
    long strange = count(Kind.GARBAGE) + count(Kind.TRUNCATED);
    if (strange > samples) {
      String message = "%s lines are no samples and only %s are; this is no capture";
      issues.add(DataIssue.error(Code.FILE_UNREADABLE, file, message.formatted(strange, samples)));
    }
    issues.addAll(clock.issues());
    List<SkippedLines> all = new ArrayList<>();
    examples.forEach((kind, first) -> all.add(new SkippedLines(kind, count(kind), first)));
    return Result.of(new Read(layout, samples, clock.wraps(), all), issues);
  }

  /**
   * A clock without its wraps.
   *
   * <p>A counter of stated width wraps whenever it goes back. Without a stated width a step back is
   * a wrap only when it fits one beyond doubt: the clock stood close before 2^16 or 2^32 and the
   * step over the end is as long as those before, within half. Every other step back is an issue.
   */
  private static final class RunningClock {
    private static final int SHOWN = 5;
    private static final double DAY_SECONDS = 86_400;
    private static final double[] KNOWN_ENDS = {65_536, 4_294_967_296.0};

    private final String file;
    private final boolean timeOfDay;
    private final double unitSeconds;
    private final double statedEnd;
    private final List<DataIssue> issues = new ArrayList<>();
    private double offset;
    private double last;
    private double typicalStep;
    private long seen;
    private long wraps;
    private long backwards;

    RunningClock(String file, CaptureLayout layout, CaptureFormat format) {
      this.file = file;
      this.timeOfDay = layout.terminalTime();
      this.unitSeconds = timeOfDay ? 1 : layout.clock().seconds();
      this.statedEnd = timeOfDay ? 0 : format.clockBits().stream().mapToDouble(b -> 1L << b).sum();
    }

    long wraps() {
      return wraps;
    }

    /** Where the clock runs backwards. */
    List<DataIssue> issues() {
      if (backwards > SHOWN) {
        warn(0, "the clock runs backwards in " + backwards + " places in all");
      }
      return issues;
    }

    private void warn(long line, String message) {
      int at = CaptureLines.number(line);
      issues.add(DataIssue.warning(Code.CLOCK_TROUBLE, file, at, message));
    }

    /** Whether a reading is possible for a counter of the stated width. */
    boolean possible(double reading) {
      return statedEnd == 0 || (reading >= 0 && reading < statedEnd);
    }

    /** Seconds of a reading of the clock, counted from the clock's own zero. */
    double seconds(long line, double reading) {
      double step = reading - last;
      if (seen++ > 0 && step < 0) {
        double end = end(reading);
        wraps += end > 0 ? 1 : 0;
        offset += end;
        step += end;
        if (end == 0 && ++backwards <= SHOWN) {
          String hint = timeOfDay ? "" : "; if it is a counter that wraps, give --clock-bits";
          warn(line, "the clock goes back from " + last + " to " + reading + hint);
        }
      }
      if (seen > 1 && step > 0) {
        typicalStep = typicalStep == 0 ? step : typicalStep + (step - typicalStep) / 16;
      }
      last = reading;
      return (reading + offset) * unitSeconds;
    }

    /** What a clock that goes back to this reading counted up to; 0 when it did not wrap. */
    private double end(double reading) {
      if (timeOfDay) {
        return last > DAY_SECONDS - 3600 && reading < 3600 ? DAY_SECONDS : 0;
      }
      if (statedEnd > 0) {
        return statedEnd;
      }
      for (double end : KNOWN_ENDS) {
        double over = reading + end - last;
        boolean fits =
            over > 0 && typicalStep > 0 && Math.abs(over - typicalStep) <= typicalStep / 2;
        if (last < end && fits) {
          return end;
        }
      }
      return 0;
    }
  }
}
