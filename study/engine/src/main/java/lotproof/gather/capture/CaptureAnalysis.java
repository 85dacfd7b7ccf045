package lotproof.gather.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.capture.SkippedLines.Kind;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureNoise.Faults;
import lotproof.reduce.capture.CaptureNoise.Glitch;
import lotproof.reduce.capture.CaptureNoise.GlitchKind;
import lotproof.reduce.capture.CaptureNoise.Periodic;
import lotproof.reduce.capture.CaptureNoise.Stuck;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.ConverterRange;
import lotproof.reduce.capture.Trace;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * A capture from file to numbers.
 *
 * @param file the file's name, without folders
 * @param layout how it was understood
 * @param clockWraps how often its clock wrapped
 * @param skipped lines that hold no sample
 * @param noise what its samples say
 * @param trace their extremes, for a chart
 * @param signs that a reading of it may be off, in a few words each
 * @param issues all signs of trouble
 */
public record CaptureAnalysis(
    String file,
    CaptureLayout layout,
    long clockWraps,
    List<SkippedLines> skipped,
    CaptureNoise noise,
    List<Trace.Part> trace,
    List<String> signs,
    List<DataIssue> issues) {

  /**
   * Reads and sums a capture; signs of trouble stand beside the numbers.
   *
   * @param name stands in issues and results
   * @param fullScale range of the converter in the units of the samples, where it is not 2^bits
   */
  public static Result<CaptureAnalysis> of(
      String name, Path path, CaptureFormat format, OptionalDouble fullScale) {
    CaptureSamples samples = new CaptureSamples();
    Result<CaptureReader.Read> result = CaptureReader.read(name, path, format, samples::add);
    if (result.isRefused()) {
      return Result.refused(result.issues());
    }
    CaptureReader.Read read = result.get();
    CaptureLayout layout = read.layout();
    ConverterRange range = ConverterRange.UNKNOWN;
    if (format.bits().isPresent() && layout.unit().equals("counts")) {
      boolean fromZero = layout.digits().coding() == Coding.UNSIGNED;
      range = ConverterRange.ofBits(format.bits().getAsInt(), fromZero);
    }
    if (fullScale.isPresent()) {
      range = new ConverterRange(fullScale, range.rails());
    }
    CaptureNoise noise = samples.finish(range, layout.hasClock(), format.samplesPerSecond());
    CaptureTrouble trouble = new CaptureTrouble(name, read, noise);
    List<DataIssue> issues = new ArrayList<>(result.issues());
    issues.addAll(trouble.issues);
    return Result.of(
        new CaptureAnalysis(
            name,
            layout,
            read.clockWraps(),
            read.skipped(),
            noise,
            samples.trace(),
            List.copyOf(trouble.inShort),
            List.copyOf(issues)),
        issues);
  }

  /** Signs of trouble in a capture, each with its line. Causes are hints and are called that. */
  private static final class CaptureTrouble {
    /** A sine that carries less of the variance than this is shown and is no trouble. */
    private static final double TROUBLESOME_SHARE = 0.05;

    private static final double DRIFT_CHANCE = 0.01;
    private static final int PLACES = 5;

    private final String file;
    private final List<DataIssue> issues = new ArrayList<>();

    /** Signs that a reading of the capture may be off, in a few words each; glitches apart. */
    private final Set<String> inShort = new LinkedHashSet<>();

    CaptureTrouble(String file, CaptureReader.Read read, CaptureNoise noise) {
      this.file = file;
      read.skipped().forEach(lines -> skipped(lines, read.samples()));
      Faults faults = noise.faults();
      faults
          .saturation()
          .ifPresent(
              rail ->
                  warn(
                      Code.SATURATED,
                      rail.line(),
                      "%s samples stand at %s, an end of the converter's range; the signal was"
                          + " larger than the range (hint: overload, a broken bridge wire, or a"
                          + " gain that is too high)",
                      rail.samples(),
                      number(rail.code())));
      faults.stuck().ifPresent(this::stuck);
      if (faults.glitches().count() > 0) {
        glitches(faults.glitches());
      }
      if (faults.gaps().count() > 0) {
        inShort.add("gaps in the clock");
        CaptureNoise.Gap first = faults.gaps().first().get(0);
        warn(
            Code.CLOCK_TROUBLE,
            first.line(),
            "%s in the clock, the first of %s s; stability over averaging time joins what a gap"
                + " parts",
            count(faults.gaps().count(), "gap", "gaps"),
            number(first.seconds()));
      }
      if (faults.steps().count() > 0) {
        inShort.add("the level jumps");
        CaptureNoise.Step first = faults.steps().first().get(0);
        warn(
            Code.UNSTEADY,
            first.line(),
            "the level changes suddenly %s, first by %s (hint: %s)",
            faults.steps().count() == 1 ? "once" : faults.steps().count() + " times",
            number(first.size()),
            faults.popcorn()
                ? "popcorn noise of an amplifier, or a poor joint"
                : "a load that was put on or slipped, or a poor joint");
      }
      noise.drift().filter(d -> isDrift(d, noise)).ifPresent(this::drift);
      noise.periodic().stream()
          .filter(sine -> sine.shareOfVariance() >= TROUBLESOME_SHARE)
          .forEach(sine -> periodic(sine, read.layout().unit()));
    }

    private static boolean isDrift(CaptureNoise.Drift drift, CaptureNoise noise) {
      return drift.pValue() < DRIFT_CHANCE && Math.abs(drift.overall()) > noise.shortTermNoise();
    }

    private void skipped(SkippedLines lines, long samples) {
      SkippedLines.Example first = lines.first().get(0);
      if (lines.kind() == Kind.UNFINISHED) {
        warn(
            Code.LAST_LINE_UNFINISHED,
            first.line(),
            "the file does not end with a line end; its last sample may be cut short and is left"
                + " out, %s taken",
            count(samples, "sample is", "samples are"));
      } else if (lines.kind() == Kind.GARBAGE || lines.kind() == Kind.TRUNCATED) {
        warn(
            Code.NOT_A_NUMBER,
            first.line(),
            "%s %s and left out; the first starts with \"%s\"",
            count(lines.count(), "line is", "lines are"),
            lines.kind() == Kind.GARBAGE ? "no sample" : "cut off",
            first.start());
      }
    }

    private void stuck(Stuck stuck) {
      String code = number(stuck.code());
      warn(
          Code.STUCK,
          stuck.line(),
          "%s (hint: a converter that hangs, or a logger that repeats its last value)",
          stuck.everySample()
              ? "all %s samples are %s".formatted(stuck.longest(), code)
              : "%s of equal samples too long for the noise, up to %s samples; the first is of %s"
                  .formatted(count(stuck.runs(), "run", "runs"), stuck.longest(), code));
    }

    private void glitches(CaptureNoise.Found<Glitch> glitches) {
      List<Glitch> first = glitches.first();
      warn(
          Code.GLITCH,
          first.get(0).line(),
          "%s far from both neighbours: line %s%s (hint: %s)",
          count(glitches.count(), "single sample stands", "single samples stand"),
          first.stream()
              .limit(PLACES)
              .map(g -> "%s (%s, %s)".formatted(g.line(), number(g.value()), kind(g)))
              .collect(Collectors.joining(", ")),
          glitches.count() > PLACES ? ", ..." : "",
          first.stream().anyMatch(g -> g.kind() != GlitchKind.SPIKE)
              ? "a serial clock that is too fast or disturbed"
              : "a loose contact or a switching load nearby");
    }

    private static String kind(Glitch glitch) {
      return switch (glitch.kind()) {
        case BIT_SLIP ->
            "off by 2^"
                + Math.round(Math.log(Math.abs(glitch.value() - glitch.expected())) / Math.log(2));
        case SHIFTED_BIT -> "shifted by one bit";
        case SPIKE -> "spike";
      };
    }

    private void drift(CaptureNoise.Drift drift) {
      inShort.add("the level drifts");
      warn(
          Code.UNSTEADY,
          0,
          "the level drifts by %s over the capture, more than the noise of one sample (hint:"
              + " warming up, creep, or a draught)",
          number(drift.overall()));
    }

    private void periodic(Periodic sine, String unit) {
      inShort.add("a sine in the noise");
      warn(
          Code.UNSTEADY,
          0,
          "a sine of %s with amplitude %s %s carries %s %% of the variance%s; a frequency above"
              + " half the sampling rate would look the same",
          sine.hertz().isPresent()
              ? number(sine.hertz().getAsDouble()) + " Hz"
              : number(sine.cyclesPerSample()) + " cycles per sample",
          number(sine.amplitude()),
          unit,
          Math.round(100 * sine.shareOfVariance()),
          sine.mainsAlias().isEmpty() ? "" : " (hint: mains pick-up, " + sine.mainsAlias() + ")");
    }

    private static String count(long number, String one, String several) {
      return number + " " + (number == 1 ? one : several);
    }

    private void warn(Code code, long line, String message, Object... values) {
      String said = DataIssue.say(message, values);
      issues.add(DataIssue.warning(code, file, CaptureLines.number(line), said));
    }

    private static String number(double value) {
      return value == Math.rint(value) && Math.abs(value) < 1e15
          ? Long.toString((long) value)
          : String.format(Locale.ROOT, "%.4g", value);
    }
  }
}
