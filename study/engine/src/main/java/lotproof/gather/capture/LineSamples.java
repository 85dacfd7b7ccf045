package lotproof.gather.capture;

import de.siegmar.fastcsv.reader.AbstractBaseCsvCallbackHandler;
import java.nio.CharBuffer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lotproof.gather.capture.SkippedLines.Kind;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Makes samples of the lines that the CSV library hands over, field by field and without making
 * text of them.
 *
 * <p>Each sample is held back until the next line begins: the first and the last may be cut off.
 */
final class LineSamples extends AbstractBaseCsvCallbackHandler<LineSamples.Outcome> {
  private final String file;
  private final CaptureLayout layout;
  private final int firstDataLine;
  private final SampleSink sink;
  private final SampleText numbers;
  private final SampleText clockNumbers;
  private final RunningClock clock;
  private final TerminalTime terminal = new TerminalTime();
  private final SkippedLines skipped = new SkippedLines();
  private final StringBuilder shown = new StringBuilder();
  private final List<DataIssue> issues = new ArrayList<>();
  private final int valueIndex;
  private final int timeIndex;
  private final boolean radixStated;

  private long line;
  private int fields;
  private boolean haveValue;
  private boolean haveTime;
  private boolean comment;
  private boolean swallowed;
  private boolean unlabelled;
  private double value;
  private double time;
  private int valueLength;

  private boolean held;
  private long heldLine;
  private double heldSeconds;
  private double heldValue;
  private long samples;
  private long hexLine;
  private int firstLength = -1;
  private int shift;

  /** What a line was. */
  enum Outcome {
    TAKEN,
    SKIPPED,
    SWALLOWED
  }

  LineSamples(
      String file, CaptureFormat format, CaptureLayout layout, int firstDataLine, SampleSink sink) {
    this.file = file;
    this.layout = layout;
    this.firstDataLine = firstDataLine;
    this.sink = sink;
    this.numbers =
        new SampleText(
            layout.digits(), !format.hexadecimal().orElse(true), format.bits().orElse(0));
    this.clockNumbers =
        new SampleText(
            new CaptureLayout.Digits(
                false, layout.digits().decimalComma(), CaptureFormat.Coding.AUTO),
            true,
            0);
    this.clock =
        new RunningClock(
            file,
            layout.terminalTime() ? 1 : layout.clock().seconds(),
            layout.terminalTime(),
            format.clockBits());
    this.valueIndex = layout.valueIndex();
    this.timeIndex = layout.timeIndex().orElse(-1);
    this.radixStated = format.hexadecimal().isPresent();
  }

  long lastLine() {
    return line;
  }

  @Override
  protected void handleBegin(long startingLineNumber) {
    line = startingLineNumber;
    fields = 0;
    haveValue = false;
    haveTime = false;
    comment = false;
    swallowed = false;
    unlabelled = false;
    shift = 0;
    shown.setLength(0);
  }

  @Override
  protected void handleEmpty() {
    super.handleEmpty();
    fields = 0;
  }

  @Override
  protected void handleField(int index, char[] buffer, int offset, int length, boolean quoted) {
    int from = offset;
    int to = offset + length;
    if (index > 0 && !quoted) {
      field(index - shift, buffer, from, to);
      return;
    }
    swallowed |=
        quoted
            && CharBuffer.wrap(buffer, from, length).chars().anyMatch(c -> c == '\n' || c == '\r');
    if (index == 0) {
      comment = length > 0 && buffer[offset] == '#' && layout.prefix().isEmpty();
      if (layout.terminalTime()) {
        from = afterTerminalTime(buffer, from, to);
      }
      if (layout.separator().isEmpty()) {
        if (!startsWith(buffer, from, to, layout.prefix())) {
          unlabelled = true;
          fields = index - shift + 1;
          show(buffer, from, to);
          return;
        }
        int start = from + layout.prefix().length();
        to -= suffixLength(buffer, start, to);
        from = start;
      }
    }
    field(index - shift, buffer, from, to);
  }

  private void field(int column, char[] buffer, int from, int to) {
    fields = column + 1;
    boolean read = false;
    if (column == valueIndex) {
      read = numbers.read(buffer, from, to);
      haveValue = read;
      value = numbers.value();
      valueLength = to - from;
    } else if (column == timeIndex) {
      read = clockNumbers.read(buffer, from, to) && clock.possible(clockNumbers.value());
      haveTime = read;
      time = clockNumbers.value();
    }
    if (!read && (column == valueIndex || column == timeIndex || column == 0)) {
      show(buffer, from, to);
    }
  }

  private void show(char[] buffer, int from, int to) {
    shown.append(shown.length() == 0 ? "" : " ");
    shown.append(buffer, from, Math.min(to - from, 40));
  }

  private int afterTerminalTime(char[] buffer, int from, int to) {
    int length = Math.min(to - from, 64);
    haveTime = terminal.find(new String(buffer, from, length));
    if (!haveTime) {
      return from;
    }
    time = terminal.secondsOfDay();
    shift = layout.separator().isPresent() && terminal.end() == to - from ? 1 : 0;
    return from + terminal.end();
  }

  private int suffixLength(char[] buffer, int from, int to) {
    String suffix = layout.suffix();
    int end = to;
    while (end > from && buffer[end - 1] == ' ') {
      end--;
    }
    return !suffix.isEmpty()
            && startsWith(buffer, Math.max(from, end - suffix.length()), to, suffix)
        ? to - end + suffix.length()
        : 0;
  }

  private static boolean startsWith(char[] buffer, int from, int to, String text) {
    int end = from + text.length();
    return end <= to && Arrays.equals(buffer, from, end, text.toCharArray(), 0, text.length());
  }

  @Override
  protected Outcome buildRecord() {
    if (swallowed) {
      return Outcome.SWALLOWED;
    }
    if (fields == 0 || (fields == 1 && shown.length() > 0 && shown.toString().isBlank())) {
      return Outcome.SKIPPED;
    }
    boolean whole = fields == layout.columns() && (!layout.hasClock() || haveTime);
    if (!haveValue || !whole || line < firstDataLine) {
      skip();
      return Outcome.SKIPPED;
    }
    if (firstLength < 0) {
      firstLength = valueLength;
    } else if (samples == 0 && firstLength < valueLength && layout.separator().isEmpty()) {
      partialFirst();
    }
    release();
    held = true;
    heldLine = line;
    heldValue = value;
    heldSeconds = layout.hasClock() ? clock.seconds(line, time) : 0;
    return Outcome.TAKEN;
  }

  /** A terminal that connects within a line sees the end of a number only. */
  private void partialFirst() {
    skipped.add(Kind.TRUNCATED, heldLine, "first number, shorter than the next");
    held = false;
    firstLength = Integer.MAX_VALUE;
  }

  private void release() {
    if (held) {
      sink.sample(heldLine, heldSeconds, heldValue);
      samples++;
      held = false;
    }
  }

  private void skip() {
    if (line == layout.headerLine()) {
      return;
    }
    if (!radixStated && !layout.digits().hexadecimal() && hexLine == 0 && looksHexadecimal()) {
      hexLine = line;
    }
    Kind kind = Kind.GARBAGE;
    if (comment) {
      kind = Kind.COMMENT;
    } else if (samples == 0 && !held) {
      kind = Kind.BANNER;
    } else if (fields < layout.columns()) {
      kind = Kind.TRUNCATED;
    }
    skipped.add(kind, line, shown);
  }

  /** Digits with letters of hexadecimal among them, where decimal numbers are expected. */
  private boolean looksHexadecimal() {
    String text = shown.toString().strip();
    String last = text.substring(text.lastIndexOf(' ') + 1);
    return line >= firstDataLine
        && !unlabelled
        && last.matches("[0-9a-fA-F]{4,12}")
        && last.matches(".*[0-9].*")
        && last.matches(".*[a-fA-F].*");
  }

  /** The end of the file: what came of it. */
  Result<CaptureReader.Read> finish(boolean endedWithinLine) {
    if (held && endedWithinLine && heldLine == line) {
      skipped.add(Kind.UNFINISHED, heldLine, "last number, without the end of its line");
      held = false;
    }
    release();
    if (hexLine > 0) {
      issue(
          Code.CAPTURE_UNCLEAR,
          hexLine,
          "a number looks hexadecimal and those before looked decimal; give --radix hex or --radix"
              + " decimal");
    }
    if (samples == 0) {
      String why =
          skipped.count(Kind.UNFINISHED) > 0
              ? "; the only one has no line end and may be cut short"
              : "";
      issue(Code.FILE_EMPTY, 0, "no sample was found" + why);
    }
    long strange = skipped.count(Kind.GARBAGE) + skipped.count(Kind.TRUNCATED);
    if (strange > samples) {
      issue(
          Code.FILE_UNREADABLE,
          0,
          strange + " lines are no samples and only " + samples + " are; this is no capture");
    }
    issues.addAll(clock.issues());
    return Result.of(new CaptureReader.Read(layout, samples, clock.wraps(), skipped.all()), issues);
  }

  private void issue(Code code, long at, String message) {
    int number = (int) Math.min(at, Integer.MAX_VALUE);
    issues.add(DataIssue.error(code, file, number, "", "", message));
  }
}
