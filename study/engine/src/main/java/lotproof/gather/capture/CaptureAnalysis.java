package lotproof.gather.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.NoiseOptions;
import lotproof.study.DataIssue;
import lotproof.study.Result;
import org.jspecify.annotations.Nullable;

/**
 * A capture from file to numbers.
 *
 * @param file the file's name, without folders
 * @param layout how it was understood
 * @param clockWraps how often its clock wrapped
 * @param skipped lines that hold no sample
 * @param noise what its samples say
 * @param issues signs of trouble
 */
public record CaptureAnalysis(
    String file,
    CaptureLayout layout,
    long clockWraps,
    List<SkippedLines.Skipped> skipped,
    CaptureNoise noise,
    List<DataIssue> issues) {
  public CaptureAnalysis {
    skipped = List.copyOf(skipped);
    issues = List.copyOf(issues);
  }

  /**
   * Reads and sums a capture; signs of trouble stand beside the numbers.
   *
   * @param fullScale range of the converter in the units of the samples, where it is not 2^bits
   */
  static Result<CaptureAnalysis> of(
      Path path, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    return of(String.valueOf(path.getFileName()), path, format, fullScale, confidence);
  }

  /**
   * The same under a name of its own, for files that are named by their hash.
   *
   * @param name stands in issues and results
   */
  public static Result<CaptureAnalysis> of(
      String name, Path path, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    // the reader asks for a sink once it knows the layout, which says whether there is a clock
    AtomicReference<@Nullable CaptureSamples> samples = new AtomicReference<>();
    Result<CaptureReader.Read> result =
        CaptureReader.read(
            name,
            path,
            format,
            layout -> {
              CaptureSamples taken =
                  new CaptureSamples(
                      options(layout, format, fullScale, confidence), layout.hasClock());
              samples.set(taken);
              return taken::add;
            });
    CaptureSamples sums = samples.get();
    if (result.isRefused() || sums == null) {
      return Result.refused(result.issues());
    }
    CaptureReader.Read read = result.get();
    CaptureNoise noise = sums.finish();
    List<DataIssue> issues = new ArrayList<>(result.issues());
    issues.addAll(CaptureTrouble.of(name, read, noise));
    return Result.of(
        new CaptureAnalysis(name, read.layout(), read.clockWraps(), read.skipped(), noise, issues),
        issues);
  }

  private static NoiseOptions options(
      CaptureLayout layout, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    NoiseOptions options =
        new NoiseOptions(
            NoiseOptions.DEFAULTS.fullScale(),
            NoiseOptions.DEFAULTS.rails(),
            format.samplesPerSecond(),
            confidence);
    if (format.bits().isPresent() && layout.unit().equals("counts")) {
      options =
          options.ofBits(format.bits().getAsInt(), layout.digits().coding() == Coding.UNSIGNED);
    }
    return fullScale.isPresent() ? options.withFullScale(fullScale.get()) : options;
  }
}
