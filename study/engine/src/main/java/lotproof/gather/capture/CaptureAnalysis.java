package lotproof.gather.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.ConverterRange;
import lotproof.reduce.capture.Trace;
import lotproof.study.DataIssue;
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
    issues.addAll(trouble.issues());
    return Result.of(
        new CaptureAnalysis(
            name,
            layout,
            read.clockWraps(),
            read.skipped(),
            noise,
            samples.trace(),
            trouble.inShort(),
            List.copyOf(issues)),
        issues);
  }
}
